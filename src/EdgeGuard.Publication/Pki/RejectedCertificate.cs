using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.Publication.Pki;

/// <summary>A certificate that was refused, and why.</summary>
/// <param name="Certificate">The certificate.</param>
/// <param name="LastUtc">When it was refused last, to the minute.</param>
/// <param name="Status">Name of the status.</param>
/// <param name="Cause">The plain cause.</param>
public sealed record RejectedCertificate(CertificateFacts Certificate, DateTime LastUtc, string Status, string Cause);
