using CsCheck;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.OpcUa.Tests.Security;

/// <summary>Bytes that are no certificate: refused with a status, never an exception.</summary>
public sealed class DamagedCertificateTests
{
    private static readonly byte[] Good = new CertificateMaker().SelfSigned().RawData;
    private static readonly byte[] List = Hall.List(CertificateMaker.Root.SelfSigned(), 30, [1, 7]);
    private static readonly TrustTable Trust = new() { Trusted = [CertificateFacts.TryRead(Good, out _)!] };

    [Theory]
    [InlineData("")]
    [InlineData("00")]
    [InlineData("3080")]
    [InlineData("3084FFFFFFFF00")]
    [InlineData("3003020101")]
    [InlineData("30820400")]
    public void Garbage_is_damaged(string hex) =>
        Hall.Expect(StatusCode.BadCertificateInvalid, StatusCode.BadSecurityChecksFailed, "damaged: ", Hall.Judge(Convert.FromHexString(hex), Trust));

    [Fact]
    public void Every_truncation_is_damaged()
    {
        for (int bytes = 0; bytes < Good.Length; bytes++)
        {
            Assert.Equal(StatusCode.BadCertificateInvalid, Hall.Judge(Good[..bytes], Trust).Status);
        }
    }

    [Fact]
    public void Bytes_behind_the_certificate_are_damaged() =>
        Hall.Expect(StatusCode.BadCertificateInvalid, StatusCode.BadSecurityChecksFailed, "damaged: ", Hall.Judge([.. Good, 0], Trust));

    [Fact]
    public void A_huge_one_is_refused_by_its_length()
    {
        byte[] huge = [0x30, 0x83, 0x01, 0x00, 0x00, .. new byte[65_536]];
        Hall.Expect(StatusCode.BadCertificateInvalid, StatusCode.BadSecurityChecksFailed, "more than 32768", Hall.Judge(huge, Trust));
    }

    [Fact]
    public void Every_changed_bit_takes_the_trust_away()
    {
        for (int bit = 0; bit < Good.Length * 8; bit += 3)
        {
            byte[] changed = [.. Good];
            changed[bit / 8] ^= (byte)(1 << (bit % 8));
            Assert.False(Hall.Judge(changed, Trust).Trusted, $"bit {bit}");
        }
    }

    [Fact]
    public void Random_changes_of_certificates_and_lists_throw_nothing() => Gen.Select(Gen.Bool, Gen.Int[0, 2000], Gen.Byte, Gen.Int[0, 2000]).Sample(
        static (certificate, at, value, cut) =>
        {
            byte[] bytes = [.. certificate ? Good : List];
            bytes[at % bytes.Length] = value;
            bytes = bytes[..Math.Max(1, bytes.Length - (cut % 50 == 0 ? cut % bytes.Length : 0))];
            CertificateVerdict verdict = Hall.Judge(bytes, TrustTable.Empty);
            RevocationList? list = RevocationList.TryRead(bytes, out string fault);
            return !verdict.Trusted && verdict.Cause is not null && (list is not null || fault.Length > 0);
        },
        iter: 5000);
}
