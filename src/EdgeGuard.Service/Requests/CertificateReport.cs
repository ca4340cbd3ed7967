namespace EdgeGuard.Service.Requests;

/// <summary>A certificate on which a secured link depends.</summary>
/// <param name="What">Which one, in words.</param>
/// <param name="Until">Its end, UTC, as yyyy-MM-dd.</param>
/// <param name="DaysLeft">Whole days until then; negative afterwards.</param>
/// <param name="Level">How urgent: None, Within90Days, Within30Days, Within7Days, Expired.</param>
/// <param name="Words">The same in words.</param>
public sealed record CertificateReport(string What, string Until, int DaysLeft, string Level, string Words);
