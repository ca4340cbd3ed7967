using System.Globalization;
using EdgeGuard.Modbus.Security;
using EdgeGuard.Records.Certificates;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Guarding;

/// <summary>The certificates of a link with the time they have left.</summary>
public static class CertificateReports
{
    /// <summary>Those the site file names.</summary>
    public static IEnumerable<CertificateReport> Of(ModbusTlsOptions? security, DateTime utcNow) =>
        LinkCertificate.Of(security).Select(c => Report(c, utcNow));

    /// <summary>Those the site file names and the one the device showed; null for a link in the clear.</summary>
    internal static IReadOnlyList<CertificateReport>? Of(ModbusTlsOptions? security, LinkEngine engine, long utcUnixMs)
    {
        if (security is null)
        {
            return null;
        }

        DateTime utcNow = DateTimeOffset.FromUnixTimeMilliseconds(utcUnixMs).UtcDateTime;
        IEnumerable<CertificateReport> known = Of(security, utcNow);
        return [.. engine.PeerCertificateEndUtc is { } end ? known.Append(Report(new LinkCertificate(LinkCertificate.OfDevice, end), utcNow)) : known];
    }

    private static CertificateReport Report(LinkCertificate certificate, DateTime utcNow) => new(
        certificate.What,
        certificate.NotAfterUtc.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        CertificateExpiry.DaysLeft(certificate.NotAfterUtc, utcNow),
        CertificateExpiry.Level(certificate.NotAfterUtc, utcNow).ToString(),
        CertificateExpiry.Words(certificate.NotAfterUtc, utcNow));
}
