using System.CommandLine;
using System.Security.Cryptography;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.Publication.Pki;
using EdgeGuard.Publication.Users;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Commands;

/// <summary>`edgeguard users`: who may log in over OPC UA, and with which role. A password never stands on the command line.</summary>
internal static class UsersCommand
{
    public static Command Create() => new("users", "Users of the OPC UA server. Example: edgeguard users add ines --role operator --site /etc/edgeguard/site")
    {
        CreateAdd(),
        CreateRemove(),
        CreateList(),
        CreatePassword(),
    };

    private static Option<string> Site() => new("--site") { Description = "Site folder.", DefaultValueFactory = static _ => "." };

    private static Argument<string> Named() => new("NAME") { Description = "Name of the user, as it stands in the journal." };

    private static Command CreateAdd()
    {
        (Argument<string> name, Option<string> site) = (Named(), Site());
        var role = new Option<string>("--role") { Description = "observer, operator or engineer.", Required = true };
        var certificate = new Option<string?>("--certificate") { Description = "File with the user's certificate; without it a password is asked for." };
        var command = new Command("add", "Add a user with a password, asked for here, or with a certificate.") { name, role, certificate, site };
        command.SetAction(parsed => With(parsed.GetValue(site)!, (data, users) => Add(data, users, parsed.GetValue(name)!, parsed.GetValue(role)!, parsed.GetValue(certificate))));
        return command;
    }

    private static Command CreateRemove()
    {
        (Argument<string> name, Option<string> site) = (Named(), Site());
        var command = new Command("remove", "Remove a user. His sessions go on until they end; a new log-in is refused within a second.") { name, site };
        command.SetAction(parsed => With(parsed.GetValue(site)!, (data, users) => Remove(data, users, parsed.GetValue(name)!)));
        return command;
    }

    private static Command CreateList()
    {
        Option<string> site = Site();
        var command = new Command("list", "All users with role and kind of proof.") { site };
        command.SetAction(parsed => With(parsed.GetValue(site)!, static (_, users) =>
        {
            if (users.Count == 0)
            {
                Console.Error.WriteLine("no users yet; add one with: edgeguard users add NAME --role observer, operator or engineer");
            }

            users.ForEach(static u => Console.WriteLine($"{u.Name,-24} {UserFile.RoleName(u.Role),-9} {(u.Password is null ? "" : "password ")}{(u.CertificateSha256 is null ? "" : "certificate SHA-256 " + u.CertificateSha256)}"));
            return ExitCode.Good;
        }));
        return command;
    }

    private static Command CreatePassword()
    {
        (Argument<string> name, Option<string> site) = (Named(), Site());
        var command = new Command("passwd", "Set a user's password, asked for here.") { name, site };
        command.SetAction(parsed => With(parsed.GetValue(site)!, (data, users) => SetPassword(data, users, parsed.GetValue(name)!)));
        return command;
    }

    private static int Add(string data, List<UserEntry> users, string name, string roleName, string? certificatePath)
    {
        UserRole role = UserFile.Role(roleName);
        if (!UserFile.IsName(name) || role == UserRole.None)
        {
            return Refuse(ExitCode.Usage, $"found name {name}, role {roleName}; expected 1 to {UserFile.NameCharactersMax} letters, digits or . - _ @, and observer, operator or engineer");
        }

        if (users.Exists(u => string.Equals(u.Name, name, StringComparison.Ordinal)) || users.Count >= UserFile.UsersMax)
        {
            return Refuse(ExitCode.Found, users.Count >= UserFile.UsersMax ? $"there are {UserFile.UsersMax} users already" : $"{name} exists already; try edgeguard users passwd, or remove first");
        }

        return certificatePath is null ? AddWithPassword(data, users, name, role) : AddWithCertificate(data, users, name, role, certificatePath);
    }

    private static int AddWithPassword(string data, List<UserEntry> users, string name, UserRole role)
    {
        if (PasswordPrompt.Ask(name) is not { } password)
        {
            return ExitCode.Found;
        }

        users.Add(new UserEntry(name, role, password, null));
        return Save(data, users, $"{name}: added as {UserFile.RoleName(role)}");
    }

    private static int AddWithCertificate(string data, List<UserEntry> users, string name, UserRole role, string path)
    {
        if (CertificateFile.TryReadCertificate(path, out string fault) is not { } certificate)
        {
            return Refuse(ExitCode.Found, $"{path}: {fault}");
        }

        string sha256 = Convert.ToHexString(SHA256.HashData(certificate.Der));
        if (users.Find(u => string.Equals(u.CertificateSha256, sha256, StringComparison.Ordinal)) is { } owner)
        {
            return Refuse(ExitCode.Found, $"{path}: this certificate belongs to {owner.Name} already");
        }

        new CertificateShelf(new PkiPaths(data)).Trust(certificate, ShelfPlace.Users);
        users.Add(new UserEntry(name, role, null, sha256));
        return Save(data, users, $"{name}: added as {UserFile.RoleName(role)} with {certificate.Subject}");
    }

    private static int Remove(string data, List<UserEntry> users, string name)
    {
        int removed = users.RemoveAll(u => string.Equals(u.Name, name, StringComparison.Ordinal));
        return removed == 0 ? Refuse(ExitCode.Found, $"{name}: no such user; try edgeguard users list") : Save(data, users, $"{name}: removed");
    }

    private static int SetPassword(string data, List<UserEntry> users, string name)
    {
        int index = users.FindIndex(u => string.Equals(u.Name, name, StringComparison.Ordinal));
        if (index < 0)
        {
            return Refuse(ExitCode.Found, $"{name}: no such user; try edgeguard users list");
        }

        if (PasswordPrompt.Ask(name) is not { } password)
        {
            return ExitCode.Found;
        }

        users[index] = users[index] with { Password = password };
        return Save(data, users, $"{name}: password set");
    }

    private static int With(string folder, Func<string, List<UserEntry>, int> act)
    {
        string? data = SiteFolder.DataFolder(folder, out SiteLoadResult loaded);
        if (data is null)
        {
            return SiteFolder.Refuse(loaded);
        }

        IReadOnlyList<UserEntry>? users = UserFile.TryRead(Path.Combine(data, UserFile.Name), out IReadOnlyList<string> faults);
        if (users is null)
        {
            foreach (string fault in faults)
            {
                Console.Error.WriteLine(fault);
            }

            return ExitCode.BadData;
        }

        try
        {
            return act(data, [.. users]);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Refuse(ExitCode.Unavailable, $"{e.Message}; run this as the user the publisher runs as");
        }
    }

    private static int Save(string data, List<UserEntry> users, string message)
    {
        Directory.CreateDirectory(data);
        UserFile.Write(Path.Combine(data, UserFile.Name), users);
        Console.WriteLine(message);
        return ExitCode.Good;
    }

    private static int Refuse(int code, string message)
    {
        Console.Error.WriteLine($"edgeguard: {message}");
        return code;
    }
}
