using System.Text.Json;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.Publication.Pki;

namespace EdgeGuard.Publication.Users;

/// <summary>Reads and writes `users.json` in the data folder: the whole file is checked, and one wrong entry makes all of it unusable.</summary>
public static class UserFile
{
    /// <summary>Name in the data folder.</summary>
    public const string Name = "users.json";

    /// <summary>Most users.</summary>
    public const int UsersMax = 200;

    /// <summary>Longest name, characters.</summary>
    public const int NameCharactersMax = 64;

    private const int BytesMax = 262_144;
    private const int Sha256Digits = 64;

    /// <summary>All users; empty when there is no file; null with every fault.</summary>
    public static IReadOnlyList<UserEntry>? TryRead(string path, out IReadOnlyList<string> faults)
    {
        var found = new List<string>();
        faults = found;
        UserDocument? document = Parse(path, found);
        IReadOnlyList<UserRecord> records = document?.Users ?? [];
        if (records.Count > UsersMax)
        {
            found.Add($"{path}: found {records.Count} users; expected at most {UsersMax}");
        }

        var users = new List<UserEntry>();
        for (int i = 0; i < records.Count && found.Count == 0; i++)
        {
            Check(path, i, records[i], users, found);
        }

        return found.Count == 0 ? users : null;
    }

    /// <summary>Writes all users, mode 0600.</summary>
    public static void Write(string path, IEnumerable<UserEntry> users)
    {
        var document = new UserDocument
        {
            Users = [.. users.Select(static u => new UserRecord
            {
                Name = u.Name,
                Role = RoleName(u.Role),
                Salt = u.Password?.Salt,
                Iterations = u.Password?.Iterations,
                Hash = u.Password?.Hash,
                CertificateSha256 = u.CertificateSha256,
            })],
        };
        PkiPaths.WriteWhole(path, JsonSerializer.SerializeToUtf8Bytes(document, UserJson.Default.UserDocument), ownerOnly: true);
    }

    /// <summary>Whether a name can stand in the journal: letters, digits and a few signs, on one line.</summary>
    public static bool IsName(string? name) =>
        name is { Length: > 0 and <= NameCharactersMax } && name.All(static c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '_' or '@');

    /// <summary>A role by its name in file and command; None for another word.</summary>
    public static UserRole Role(string? name) => name switch
    {
        "observer" => UserRole.Observer,
        "operator" => UserRole.Operator,
        "engineer" => UserRole.Engineer,
        _ => UserRole.None,
    };

    /// <summary>Name of a role in file and command.</summary>
    public static string RoleName(UserRole role) => role switch
    {
        UserRole.Observer => "observer",
        UserRole.Operator => "operator",
        UserRole.Engineer => "engineer",
        _ => "none",
    };

    private static UserDocument? Parse(string path, List<string> faults)
    {
        try
        {
            var file = new FileInfo(path);
            if (!file.Exists)
            {
                return null;
            }

            if (file.Length > BytesMax)
            {
                faults.Add($"{path}: found {file.Length} bytes; expected at most {BytesMax}");
                return null;
            }

            return JsonSerializer.Deserialize(File.ReadAllBytes(path), UserJson.Default.UserDocument);
        }
        catch (JsonException e)
        {
            faults.Add($"{path}:{e.LineNumber + 1}:{e.BytePositionInLine + 1}: not the file that edgeguard users writes: {e.Message}");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            faults.Add($"{path}: cannot be read: {e.Message}");
        }

        return null;
    }

    private static void Check(string path, int index, UserRecord record, List<UserEntry> users, List<string> faults)
    {
        string where = $"{path}: user {index + 1}";
        UserRole role = Role(record.Role);
        if (!IsName(record.Name) || users.Exists(u => string.Equals(u.Name, record.Name, StringComparison.Ordinal)))
        {
            faults.Add($"{where}: name: expected 1 to {NameCharactersMax} letters, digits or . - _ @, each name once");
            return;
        }

        if (role == UserRole.None)
        {
            faults.Add($"{where} ({record.Name}): role: expected observer, operator or engineer");
        }

        bool hasPassword = record.Salt is not null || record.Hash is not null || record.Iterations is not null;
        string fault = "";
        PasswordHash? password = hasPassword ? PasswordHash.TryRestore(record.Salt, record.Iterations ?? 0, record.Hash, out fault) : null;
        bool certificateFits = record.CertificateSha256 is null || (record.CertificateSha256.Length == Sha256Digits && record.CertificateSha256.All(char.IsAsciiHexDigitUpper));
        if (fault.Length > 0 || !certificateFits || (!hasPassword && record.CertificateSha256 is null))
        {
            faults.Add($"{where} ({record.Name}): {(fault.Length > 0 ? fault : !certificateFits ? "certificateSha256: expected 64 upper-case hexadecimal digits" : "neither password nor certificate")}");
        }

        users.Add(new UserEntry(record.Name!, role, password, record.CertificateSha256));
    }
}
