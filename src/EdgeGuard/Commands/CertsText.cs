using System.Globalization;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.Publication.Pki;
using EdgeGuard.Records.Certificates;

namespace EdgeGuard.Commands;

/// <summary>Certificates as text.</summary>
internal static class CertsText
{
    public static string Time(DateTime? utc) => utc?.ToString("yyyy-MM-dd HH:mm'Z'", CultureInfo.InvariantCulture) ?? "not stated";

    public static int List(PkiPaths paths, DateTime utcNow, TextWriter output)
    {
        output.WriteLine("own");
        if (OwnCertificateFolder.TryShow(paths, out string fault) is { } own)
        {
            Line(own, utcNow, output);
        }
        else
        {
            output.WriteLine("  " + fault);
        }

        var shelf = new CertificateShelf(paths);
        foreach (ShelfPlace place in (ReadOnlySpan<ShelfPlace>)[ShelfPlace.Trusted, ShelfPlace.Issuers, ShelfPlace.Users])
        {
            output.WriteLine(place switch { ShelfPlace.Trusted => "trusted", ShelfPlace.Issuers => "issuers (complete chains only)", _ => "users" });
            foreach (StoredCertificate stored in shelf.List(place))
            {
                Line(stored.Certificate, utcNow, output);
            }
        }

        var trust = new TrustFolders(paths, paths.Trusted);
        TrustTable table = trust.Current(0);
        output.WriteLine("revocation lists");
        foreach (RevocationList list in table.RevocationLists)
        {
            output.WriteLine($"  {list.Issuer}: {list.Count} revoked, of {Time(list.ThisUpdateUtc)}, next one due {Time(list.NextUpdateUtc)}{(list.NextUpdateUtc < utcNow ? "  OUTDATED" : "")}");
        }

        output.WriteLine("refused lately");
        foreach (RejectedCertificate refused in new RejectedFolder(paths.Rejected).List())
        {
            Line(refused.Certificate, utcNow, output);
            output.WriteLine($"      refused {Time(refused.LastUtc)} ({refused.Status}): {refused.Cause}");
        }

        foreach (string note in table.Notes)
        {
            output.WriteLine(note);
        }

        return ExitCode.Good;
    }

    public static void Show(PkiPaths paths, CertificateFacts certificate, DateTime utcNow, TextWriter output)
    {
        string[] places = [.. new CertificateShelf(paths).Find(certificate.Thumbprint).Select(static c => c.Place.ToString().ToLowerInvariant())];
        output.WriteLine($"subject      {certificate.Subject}");
        output.WriteLine($"issuer       {(certificate.IsSelfIssued ? "itself" : certificate.Issuer)}");
        output.WriteLine($"thumbprint   {certificate.Thumbprint}");
        output.WriteLine($"valid        {Time(certificate.NotBeforeUtc)} to {Time(certificate.NotAfterUtc)}, {Days(certificate, utcNow)}");
        output.WriteLine($"URI          {Uri(certificate)}");
        output.WriteLine($"hosts        {(certificate.HostNames.Count == 0 ? "none" : string.Join(", ", certificate.HostNames))}");
        output.WriteLine($"key          {(certificate.KeyBits == 0 ? "not RSA" : $"RSA {certificate.KeyBits} bits")}, signed by {certificate.SignatureName}");
        output.WriteLine($"usage        {certificate.KeyUsages?.ToString() ?? "not restricted"}{(certificate.IsAuthority ? "; issues certificates" : "")}");
        output.WriteLine($"stands in    {(places.Length == 0 ? "no folder" : string.Join(", ", places))}");
        Judge(paths, certificate, utcNow, output);
    }

    /// <summary>Whether a client with this certificate would be let in now, and if not, why.</summary>
    public static void Judge(PkiPaths paths, CertificateFacts certificate, DateTime utcNow, TextWriter output)
    {
        if (certificate.IsAuthority)
        {
            return;
        }

        CertificateVerdict verdict = CertificateRules.Judge(certificate.Der, new TrustFolders(paths, paths.Trusted).Current(0), utcNow, CertificatePurpose.ClientApplication);
        output.WriteLine(verdict.Trusted ? "as a client  would be accepted" : $"as a client  would be refused ({verdict.Status}): {verdict.Cause}");
    }

    private static void Line(CertificateFacts certificate, DateTime utcNow, TextWriter output) =>
        output.WriteLine($"  {certificate.Thumbprint}  {Days(certificate, utcNow)}  {certificate.Subject}  {Uri(certificate)}");

    private static string Days(CertificateFacts certificate, DateTime utcNow) => CertificateExpiry.Words(certificate.NotAfterUtc, utcNow);

    private static string Uri(CertificateFacts certificate) => certificate.PrintableUri ?? "no URI";
}
