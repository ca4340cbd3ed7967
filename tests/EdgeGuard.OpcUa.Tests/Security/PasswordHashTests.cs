using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.OpcUa.Tests.Security;

public sealed class PasswordHashTests
{
    // RFC 7914, section 11, "Test Vectors for PBKDF2 with HMAC-SHA-256", both of them.
    [Theory]
    [InlineData("passwd", "salt", 1, "55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc49ca9cccf179b645991664b39d77ef317c71b845b1e30bd509112041d3a19783")]
    [InlineData("Password", "NaCl", 80000, "4ddcd8f60b98be21830cee5ef22701f9641a4418d04c0414aeff08876b34ab56a1d425a1225833549adb841b51c9b3176a272bdebba1d078478f62b397f33c8d")]
    public void Derivation_gives_the_published_vectors(string password, string salt, int iterations, string expected) =>
        Assert.Equal(expected, Convert.ToHexStringLower(PasswordHash.Derive(System.Text.Encoding.ASCII.GetBytes(password), System.Text.Encoding.ASCII.GetBytes(salt), iterations, 64)));

    [Fact]
    public void Only_the_password_matches()
    {
        PasswordHash stored = PasswordHash.Create("pellets 2026"u8);
        Assert.True(PasswordHash.Matches(stored, "pellets 2026"u8));
        Assert.False(PasswordHash.Matches(stored, "pellets 2027"u8));
        Assert.False(PasswordHash.Matches(stored, ""u8));
        Assert.False(PasswordHash.Matches(null, "pellets 2026"u8));
        Assert.False(PasswordHash.Matches(stored, new byte[PasswordHash.PasswordBytesMax + 1]));
        Assert.Equal(210_000, stored.Iterations);
        Assert.NotEqual(stored.Salt, PasswordHash.Create("pellets 2026"u8).Salt);
    }

    [Fact]
    public void Passwords_outside_8_to_256_bytes_are_refused()
    {
        Assert.Throws<ArgumentException>(static () => PasswordHash.Create("1234567"u8));
        Assert.Throws<ArgumentException>(static () => PasswordHash.Create(new byte[257]));
    }

    [Theory]
    [InlineData(16, 209_999, 32, "iterations: found 209999")]
    [InlineData(16, 5_000_001, 32, "iterations: found 5000001")]
    [InlineData(15, 210_000, 32, "salt")]
    [InlineData(65, 210_000, 32, "salt")]
    [InlineData(16, 210_000, 31, "hash")]
    public void A_stored_hash_that_is_weaker_or_costlier_than_allowed_is_refused(int saltBytes, int iterations, int hashBytes, string fault)
    {
        Assert.Null(PasswordHash.TryRestore(new byte[saltBytes], iterations, new byte[hashBytes], out string found));
        Assert.StartsWith(fault, found, StringComparison.Ordinal);
        Assert.NotNull(PasswordHash.TryRestore(new byte[16], 210_000, new byte[32], out _));
        Assert.Null(PasswordHash.TryRestore(null, 210_000, null, out _));
    }
}
