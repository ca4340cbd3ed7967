using System.Net;

namespace EdgeGuard.Publication.Pki;

/// <summary>What stands in the own certificate.</summary>
public sealed record OwnCertificateOptions
{
    /// <summary>Application URI.</summary>
    public required string ApplicationUri { get; init; }

    /// <summary>Name shown to people.</summary>
    public required string CommonName { get; init; }

    /// <summary>Host names under which clients dial.</summary>
    public required IReadOnlyList<string> DnsNames { get; init; }

    /// <summary>Addresses under which clients dial.</summary>
    public IReadOnlyList<IPAddress> Addresses { get; init; } = [];

    /// <summary>Days until it expires.</summary>
    public int ValidDays { get; init; } = 1825;

    /// <summary>RSA key length in bits, 2048 to 4096.</summary>
    public int KeyBits { get; init; } = 2048;

    /// <summary>The usual content for a site on this machine.</summary>
    /// <param name="siteName">Name of the site.</param>
    public static OwnCertificateOptions ForThisHost(string siteName) => new()
    {
        ApplicationUri = $"urn:{Uri.EscapeDataString(Environment.MachineName.ToLowerInvariant())}:edgeguard:{Uri.EscapeDataString(siteName)}",
        CommonName = $"EdgeGuard {siteName}",
        DnsNames = string.Equals(Environment.MachineName, "localhost", StringComparison.OrdinalIgnoreCase) ? ["localhost"] : [Environment.MachineName, "localhost"],
        Addresses = [IPAddress.Loopback],
    };
}
