using System.CommandLine;
using System.Net;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.Publication.Pki;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Commands;

/// <summary>`edgeguard certs`: which certificates are trusted, which were refused and why, and the own one.</summary>
internal static class CertsCommand
{
    public static Command Create() => new("certs", "Certificates of the OPC UA server and of its clients. Example: edgeguard certs list --site /etc/edgeguard/site")
    {
        CreateList(),
        CreateShow(),
        CreateTrust(),
        CreateReject(),
        CreateRenew(),
    };

    private static Option<string> Site() => new("--site") { Description = "Site folder.", DefaultValueFactory = static _ => "." };

    private static Argument<string> Which(string description) => new("CERTIFICATE") { Description = description };

    private static Command CreateList()
    {
        Option<string> site = Site();
        var command = new Command("list", "All certificates: days left, thumbprint, URI; for refused ones the cause.") { site };
        command.SetAction(parsed => With(parsed.GetValue(site)!, static paths => CertsText.List(paths, DateTime.UtcNow, Console.Out)));
        return command;
    }

    private static Command CreateShow()
    {
        Option<string> site = Site();
        Argument<string> which = Which("Thumbprint (at least its first 8 digits), file, or `own`.");
        var command = new Command("show", "One certificate in full, and whether it would be accepted now.") { which, site };
        command.SetAction(parsed => With(parsed.GetValue(site)!, paths => Show(paths, parsed.GetValue(which)!)));
        return command;
    }

    private static Command CreateTrust()
    {
        Option<string> site = Site();
        Argument<string> which = Which("Thumbprint of a refused certificate (at least its first 8 digits), or a file: certificate or revocation list.");
        var issuer = new Option<bool>("--issuer") { Description = "Only to complete chains; what it issues is not trusted by that." };
        var command = new Command("trust", "Trust a client, or an issuer and all it issues. Takes effect within a second.") { which, issuer, site };
        command.SetAction(parsed => With(parsed.GetValue(site)!, paths => Trust(paths, parsed.GetValue(which)!, parsed.GetValue(issuer) ? ShelfPlace.Issuers : ShelfPlace.Trusted)));
        return command;
    }

    private static Command CreateReject()
    {
        Option<string> site = Site();
        Argument<string> which = Which("Thumbprint (at least its first 8 digits), or a file.");
        var command = new Command("reject", "Take trust away. Open channels of the client end at their next renewal.") { which, site };
        command.SetAction(parsed => With(parsed.GetValue(site)!, paths => Reject(paths, parsed.GetValue(which)!)));
        return command;
    }

    private static Command CreateRenew()
    {
        Option<string> site = Site();
        var hosts = new Option<string[]>("--host") { Description = "Host name or address under which clients dial; may be repeated. Default: those of the current certificate, or this machine's name." };
        var uri = new Option<string?>("--uri") { Description = "Application URI. Default: that of the current certificate." };
        var days = new Option<int>("--days") { Description = "Days until it expires.", DefaultValueFactory = static _ => 1825 };
        var bits = new Option<int>("--bits") { Description = "RSA key length: 2048, 3072 or 4096.", DefaultValueFactory = static _ => 2048 };
        var command = new Command("renew", "Make a new key and certificate of the server. Clients have to trust the new one; the publisher uses it from its next start.") { hosts, uri, days, bits, site };
        command.SetAction(parsed =>
        {
            int code = TryOpen(parsed.GetValue(site)!, out SiteConfiguration? loaded, out PkiPaths? paths);
            return code == ExitCode.Good ? Guarded(() => Renew(paths!, loaded, parsed.GetValue(hosts) ?? [], parsed.GetValue(uri), parsed.GetValue(days), parsed.GetValue(bits))) : code;
        });
        return command;
    }

    private static int Show(PkiPaths paths, string which)
    {
        CertificateFacts? certificate = string.Equals(which, "own", StringComparison.Ordinal) ? OwnCertificateFolder.TryShow(paths, out string fault) : Find(paths, which, out fault);
        if (certificate is null)
        {
            return Refuse($"{which}: {fault}");
        }

        CertsText.Show(paths, certificate, DateTime.UtcNow, Console.Out);
        return ExitCode.Good;
    }

    private static int Trust(PkiPaths paths, string which, ShelfPlace place)
    {
        var shelf = new CertificateShelf(paths);
        if (File.Exists(which) && CertificateFile.TryReadList(which, out _) is { } list)
        {
            shelf.Add(list, File.ReadAllBytes(which));
            Console.WriteLine($"revocation list of {list.Issuer}: {list.Count} revoked, next one due {CertsText.Time(list.NextUpdateUtc)}");
            return ExitCode.Good;
        }

        if (Find(paths, which, out string fault) is not { } certificate)
        {
            return Refuse($"{which}: {fault}");
        }

        shelf.Trust(certificate, place);
        Console.WriteLine($"{(place == ShelfPlace.Trusted ? "trusted" : "kept to complete chains")}: {certificate.Subject}  {certificate.Thumbprint}");
        if (place == ShelfPlace.Trusted)
        {
            CertsText.Judge(paths, certificate, DateTime.UtcNow, Console.Out);
        }

        return ExitCode.Good;
    }

    private static int Reject(PkiPaths paths, string which)
    {
        if (Find(paths, which, out string fault) is not { } certificate)
        {
            return Refuse($"{which}: {fault}");
        }

        if (!new CertificateShelf(paths).Reject(certificate, DateTime.UtcNow))
        {
            return Refuse($"{certificate.Subject}  {certificate.Thumbprint}: was not trusted");
        }

        Console.WriteLine($"no longer trusted: {certificate.Subject}  {certificate.Thumbprint}");
        return ExitCode.Good;
    }

    private static int Renew(PkiPaths paths, SiteConfiguration? site, string[] hosts, string? uri, int days, int bits)
    {
        if (bits is not (2048 or 3072 or 4096) || days is < 1 or > 7300 || (uri is not null && !Uri.IsWellFormedUriString(uri, UriKind.Absolute)))
        {
            Console.Error.WriteLine($"edgeguard: certs renew: found --bits {bits} --days {days} --uri {uri}; expected 2048, 3072 or 4096 bits, 1 to 7300 days, an absolute URI");
            return ExitCode.Usage;
        }

        CertificateFacts? old = OwnCertificateFolder.TryShow(paths, out _);
        OwnCertificateOptions usual = OwnCertificateOptions.ForThisHost(site?.Table.Name ?? "site");
        string[] names = hosts.Length > 0 ? hosts : old is { HostNames.Count: > 0 } ? [.. old.HostNames] : [.. usual.DnsNames, .. usual.Addresses.Select(static a => a.ToString())];
        OwnCertificateOptions options = usual with
        {
            ApplicationUri = uri ?? (old?.Uris.Count > 0 ? old.Uris[0] : usual.ApplicationUri),
            DnsNames = [.. names.Where(static n => !IPAddress.TryParse(n, out _))],
            Addresses = [.. names.Where(static n => IPAddress.TryParse(n, out _)).Select(IPAddress.Parse)],
            ValidDays = days,
            KeyBits = bits,
        };
        using var made = OwnCertificateFolder.Renew(paths, options, DateTime.UtcNow);
        Console.WriteLine($"new certificate: {made.Thumbprint}, {options.ApplicationUri}, hosts {string.Join(", ", names)}, {Counted.Of(days, "day")}");
        Console.WriteLine($"restart the publisher, and let the clients trust {Path.Combine(paths.Own, OwnCertificateFolder.CopyFile)}");
        return ExitCode.Good;
    }

    private static CertificateFacts? Find(PkiPaths paths, string which, out string fault)
    {
        if (File.Exists(which))
        {
            return CertificateFile.TryReadCertificate(which, out fault);
        }

        string[] found = [.. new CertificateShelf(paths).Find(which).Select(static c => c.Certificate.Thumbprint).Distinct(StringComparer.Ordinal)];
        fault = found.Length == 0 ? "neither a file nor the thumbprint (at least 8 digits) of a known certificate; try edgeguard certs list" : $"fits {found.Length} certificates; give more digits";
        return found.Length == 1 ? new CertificateShelf(paths).Find(found[0])[0].Certificate : null;
    }

    private static int With(string folder, Func<PkiPaths, int> act)
    {
        int code = TryOpen(folder, out _, out PkiPaths? paths);
        return code == ExitCode.Good ? Guarded(() => act(paths!)) : code;
    }

    private static int TryOpen(string folder, out SiteConfiguration? site, out PkiPaths? paths)
    {
        string? data = SiteFolder.DataFolder(folder, out SiteLoadResult loaded);
        site = loaded.Site;
        paths = data is null ? null : new PkiPaths(data);
        return data is null ? SiteFolder.Refuse(loaded) : ExitCode.Good;
    }

    private static int Guarded(Func<int> act)
    {
        try
        {
            return act();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or PkiException)
        {
            Console.Error.WriteLine($"edgeguard: {e.Message}; run this as the user the publisher runs as");
            return ExitCode.Unavailable;
        }
    }

    private static int Refuse(string message)
    {
        Console.Error.WriteLine($"edgeguard: {message}");
        return ExitCode.Found;
    }
}
