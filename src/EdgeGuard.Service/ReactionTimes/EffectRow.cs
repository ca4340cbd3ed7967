using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Service.ReactionTimes;

/// <summary>One row of the cause-and-effect matrix: a function of a unit as the site has it.</summary>
/// <param name="Unit">Name of the unit.</param>
/// <param name="Function">The function.</param>
/// <param name="Cause">The condition with its limits.</param>
/// <param name="Delay">Its delay.</param>
/// <param name="Reaction">Removal, controlled, alarm.</param>
/// <param name="Effects">What is written on each path, in the order of <see cref="EffectMatrix.Paths"/>; "–" for none.</param>
/// <param name="Bypass">Whether a person may bypass it, and for how long at most.</param>
/// <param name="Force">Which of the signals it judges a person may force, within which values and for how long at most.</param>
/// <param name="SharesWithControl">Whether the sensing is shared with the controller that is supervised.</param>
/// <param name="ReactionTime">Chain against process safety time, where computed.</param>
public sealed record EffectRow(
    string Unit,
    FunctionId Function,
    string Cause,
    string Delay,
    string Reaction,
    IReadOnlyList<string> Effects,
    string Bypass,
    string Force,
    string SharesWithControl,
    string ReactionTime);
