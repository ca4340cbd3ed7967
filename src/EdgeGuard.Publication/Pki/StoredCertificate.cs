using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.Publication.Pki;

/// <summary>A certificate in one of the folders.</summary>
/// <param name="Place">The folder.</param>
/// <param name="Path">The file.</param>
/// <param name="Certificate">The certificate.</param>
public sealed record StoredCertificate(ShelfPlace Place, string Path, CertificateFacts Certificate);
