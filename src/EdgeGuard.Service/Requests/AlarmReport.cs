namespace EdgeGuard.Service.Requests;

/// <summary>An alarm of a unit that stands or that nobody has acknowledged.</summary>
/// <param name="Alarm">"TRIP", or the code of a function.</param>
/// <param name="State">State after ISA-18.2, by name.</param>
public sealed record AlarmReport(string Alarm, string State);
