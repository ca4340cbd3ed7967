namespace EdgeGuard.Service.Configuration;

/// <summary>Something stated in the site file with a date: who or what, and until when or since when.</summary>
/// <param name="Text">Name, person, reason or record.</param>
/// <param name="Date">Expiry, or the date of the proof test.</param>
public sealed record DatedStatement(string Text, DateOnly Date);
