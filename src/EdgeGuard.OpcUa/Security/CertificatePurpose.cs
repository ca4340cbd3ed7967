namespace EdgeGuard.OpcUa.Security;

/// <summary>What a certificate is shown for; the first value is the one with all rules.</summary>
public enum CertificatePurpose
{
    /// <summary>Client application: application URI, key usage and enhanced key usage are checked.</summary>
    ClientApplication,

    /// <summary>Server application that this one asks as a client: the same, with the usage of a server.</summary>
    ServerApplication,

    /// <summary>A person: the certificate needs no application URI, and its key only has to sign.</summary>
    User,
}
