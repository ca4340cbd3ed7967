using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.Publication.Users;

/// <summary>One user as checked: a name, a role, and a password or a certificate.</summary>
/// <param name="Name">Name, as it stands in the journal.</param>
/// <param name="Role">What he may.</param>
/// <param name="Password">Hash of the password; null for a user without one.</param>
/// <param name="CertificateSha256">SHA-256 over the certificate in DER form, upper-case hexadecimal; null for a user without one.</param>
public sealed record UserEntry(string Name, UserRole Role, PasswordHash? Password, string? CertificateSha256);
