using System.Security.Cryptography;

namespace EdgeGuard.OpcUa.Tests.Security;

/// <summary>RSA keys for all tests of this folder: making one takes longer than most of the tests.</summary>
internal static class TestKeys
{
    private static readonly Lazy<RSA> RootKey = new(static () => RSA.Create(2048));
    private static readonly Lazy<RSA> IssuerKey = new(static () => RSA.Create(2048));
    private static readonly Lazy<RSA> ClientKey = new(static () => RSA.Create(2048));
    private static readonly Lazy<RSA> ShortKey = new(static () => RSA.Create(1024));

    public static RSA Root => RootKey.Value;

    public static RSA Issuer => IssuerKey.Value;

    public static RSA Client => ClientKey.Value;

    public static RSA Short => ShortKey.Value;
}
