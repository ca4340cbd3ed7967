using System.Security.Cryptography;
using CsCheck;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.SecureChannel;

/// <summary>Keys that are set up once give, message after message, what the one-shot functions of the platform give.</summary>
public sealed class ChannelKeysTests
{
    [Theory]
    [InlineData("Basic256Sha256")]
    [InlineData("Aes128_Sha256_RsaOaep")]
    public void Keys_used_again_sign_and_encrypt_as_keys_used_once(string name)
    {
        SecurityPolicy policy = ChannelTests.Policy(name);
        (byte[] secret, byte[] seed) = (RandomNumberGenerator.GetBytes(32), RandomNumberGenerator.GetBytes(32));
        byte[] material = new byte[policy.SigningKeyBytes + policy.EncryptionKeyBytes + 16];
        KeyDerivation.PSha256(secret, seed, material);
        using var keys = new ChannelKeys(policy, secret, seed);
        using var aes = Aes.Create();
        aes.Key = material[policy.SigningKeyBytes..^16];
        Gen.Select(Gen.Byte.Array[0, 5_000], Gen.Int[1, 300], Gen.Int[0, 40]).Sample(
            (data, blocks, offset) =>
            {
                byte[] signature = new byte[32];
                keys.Sign(data, signature);
                Assert.Equal(HMACSHA256.HashData(material.AsSpan(0, policy.SigningKeyBytes), data), signature);
                Assert.True(keys.Verify(data, signature));

                byte[] buffer = RandomNumberGenerator.GetBytes(offset + (16 * blocks) + 7);
                byte[] expected = [.. buffer];
                aes.EncryptCbc(buffer.AsSpan(offset, 16 * blocks), material.AsSpan(material.Length - 16), expected.AsSpan(offset, 16 * blocks), PaddingMode.None);
                byte[] plain = [.. buffer];
                keys.Encrypt(buffer, offset, 16 * blocks);
                Assert.Equal(expected, buffer);
                keys.Decrypt(buffer.AsSpan(offset, 16 * blocks));
                Assert.Equal(plain, buffer);
            },
            iter: 300,
            threads: 1);
    }
}
