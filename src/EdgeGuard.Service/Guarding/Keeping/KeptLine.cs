using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.Guarding.Keeping;

/// <summary>A line for the journal about kept figures.</summary>
/// <param name="Id">Event.</param>
/// <param name="Unit">Name of the unit.</param>
/// <param name="Text">What happened.</param>
internal sealed record KeptLine(ShellEventId Id, string Unit, string Text);
