using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using EdgeGuard.Modbus.Security;

namespace EdgeGuard.Service.Configuration.Drafts;

// A link that cannot be secured must not start, since it would never connect: each file is read and judged here, and a
// certificate that is over is a fault of the site. The key never stands in a message.

/// <summary>Reads the certificates and the key of every secured link.</summary>
internal static class LinkSecurityLoader
{
    private const string Pem = "a file in PEM form, \"-----BEGIN …-----\"";

    public static void Load(SiteDraft site, string folder, FaultList faults)
    {
        foreach (LinkDraft link in site.Links.Where(l => l.Security.Stated))
        {
            string? certificate = Read(link.Security, "certificate", folder, faults);
            string? key = Read(link.Security, "key", folder, faults);
            string? trusted = Read(link.Security, "trusted", folder, faults);
            X509Certificate2? own = certificate is null ? null : Own(link.Security, certificate, key, site.NowUtc, faults);
            X509Certificate2Collection? issuers = trusted is null ? null : Issuers(link.Security, trusted, site.NowUtc, faults);
            if (own is not null && issuers is not null)
            {
                link.Tls = new ModbusTlsOptions { Certificate = own, TrustedIssuers = issuers, ServerName = link.Security.Text("serverName") };
            }
        }
    }

    private static string? Read(Section section, string name, string folder, FaultList faults)
    {
        if (section.Text(name) is not { } file)
        {
            return null;
        }

        byte[]? bytes = BoundedFile.Read(Path.Combine(folder, file), out string? why);
        if (bytes is null)
        {
            faults.Add(section.At(name), $"the file of \"{name}\" cannot be read: {why}", Quoted.Of(file), "a path from the site folder, or a full path", "to put the file there, readable for the user of the service");
            return null;
        }

        return Encoding.UTF8.GetString(bytes);
    }

    private static X509Certificate2? Own(Section section, string certificate, string? key, DateTime nowUtc, FaultList faults)
    {
        try
        {
            using X509Certificate2 facts = X509Certificate2.CreateFromPem(certificate);
            CheckTime(section, "certificate", facts, nowUtc, faults);
        }
        catch (CryptographicException)
        {
            faults.Add(section.At("certificate"), "the file holds no certificate", Quoted.Of(section.Text("certificate")!), Pem, "to export the client's certificate as PEM");
            return null;
        }

        try
        {
            if (key is null)
            {
                return null;
            }

            // By way of a container, since not every system offers a key that was just read to TLS.
            using X509Certificate2 withKey = X509Certificate2.CreateFromPem(certificate, key);
            return X509CertificateLoader.LoadPkcs12(withKey.Export(X509ContentType.Pkcs12), null);
        }
        catch (Exception fault) when (fault is CryptographicException or ArgumentException)
        {
            faults.Add(section.At("key"), "the key cannot be used with the certificate", Quoted.Of(section.Text("key")!), "the private key of that certificate, in PEM form and without a password", "to export both together; keep the file readable for the user of the service alone");
            return null;
        }
    }

    private static X509Certificate2Collection? Issuers(Section section, string text, DateTime nowUtc, FaultList faults)
    {
        X509Certificate2Collection issuers = [];
        try
        {
            issuers.ImportFromPem(text);
        }
        catch (CryptographicException)
        {
            issuers.Clear();
        }

        if (issuers.Count == 0)
        {
            faults.Add(section.At("trusted"), "the file holds no certificate", Quoted.Of(section.Text("trusted")!), Pem, "the certificate of the issuer of the device's certificate");
            return null;
        }

        foreach (X509Certificate2 issuer in issuers)
        {
            CheckTime(section, "trusted", issuer, nowUtc, faults);
        }

        return issuers;
    }

    private static void CheckTime(Section section, string name, X509Certificate2 certificate, DateTime nowUtc, FaultList faults)
    {
        (DateTime from, DateTime to) = (certificate.NotBefore.ToUniversalTime(), certificate.NotAfter.ToUniversalTime());
        if (nowUtc < from || nowUtc > to)
        {
            string what = nowUtc > to ? $"a certificate of \"{name}\" has expired" : $"a certificate of \"{name}\" is not valid yet";
            faults.Add(section.At(name), what, $"{Quoted.Of(section.Text(name)!)}, valid {from:yyyy-MM-dd} to {to:yyyy-MM-dd}", "a certificate that is valid today", "to have it renewed, and to look at the clock of this machine");
        }
    }
}
