using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Service.ReactionTimes;

/// <summary>A setting as people name it, for the comparison of two sites.</summary>
/// <param name="Unit">Unit it belongs to; empty for the site.</param>
/// <param name="Function">Function whose chain it may be part of; None for the others.</param>
/// <param name="Line">Line of the settings text that holds it, the unit by its name: "N-1.flow".</param>
/// <param name="Name">Its name: "trip delay of FLOW on N-1".</param>
/// <param name="Value">Its value with unit.</param>
internal sealed record NamedSetting(string Unit, FunctionId Function, string Line, string Name, string Value);
