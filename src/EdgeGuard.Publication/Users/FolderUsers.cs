using System.Security.Cryptography;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.OpcUa.Sessions;
using EdgeGuard.Publication.Hosting;
using EdgeGuard.Publication.Pki;

namespace EdgeGuard.Publication.Users;

/// <summary>
/// Users of a site: names and roles from `users.json`, certificates of people by the folder `pki/users`. Both are read
/// anew when they change, without a restart; a file that is wrong knows nobody. A certificate has to be trusted by the
/// folder and be assigned to a name: trust alone gives no role.
/// </summary>
public sealed class FolderUsers : IUserAuthority
{
    private const long LookAgainMs = 1000;

    private readonly Lock _gate = new();
    private readonly Lock _deriving = new();
    private readonly string _path;
    private readonly TrustFolders _trust;
    private readonly Action<string>? _note;
    private readonly Func<(long MonotonicMs, DateTime Utc)> _clock;
    private IReadOnlyList<UserEntry> _users = [];
    private (bool Exists, long Bytes, long Ticks)? _mark;
    private long _lookedMs;

    /// <summary>Takes the data folder; nothing is read yet.</summary>
    /// <param name="dataFolder">Data folder of the site.</param>
    /// <param name="note">Is told of changes, of faults of the file and of certificates that are refused.</param>
    /// <param name="clock">Clock of a test; null for the machine's.</param>
    public FolderUsers(string dataFolder, Action<string>? note = null, Func<(long MonotonicMs, DateTime Utc)>? clock = null)
    {
        var paths = new PkiPaths(dataFolder);
        (_path, _note) = (Path.Combine(dataFolder, UserFile.Name), note);
        _trust = new TrustFolders(paths, paths.Users, note);
        _clock = clock ?? (static () => (HostClock.MonotonicMs, DateTime.UtcNow));
    }

    /// <inheritdoc/>
    public bool TakesPasswords => true;

    /// <inheritdoc/>
    public bool TakesCertificates => true;

    /// <inheritdoc/>
    public UserIdentity? Find(string userName, ReadOnlySpan<byte> password)
    {
        UserEntry? user = Users().FirstOrDefault(u => string.Equals(u.Name, userName, StringComparison.Ordinal));

        // One derivation at a time: guessing takes one core at most.
        lock (_deriving)
        {
            return PasswordHash.Matches(user?.Password, password) ? new UserIdentity(UserTokenType.UserName, user!.Name, Roles(user.Role)) : null;
        }
    }

    /// <inheritdoc/>
    public UserIdentity? Find(ReadOnlySpan<byte> certificate)
    {
        (long monotonicMs, DateTime utc) = _clock();
        CertificateVerdict verdict = CertificateRules.Judge(certificate, _trust.Current(monotonicMs), utc, CertificatePurpose.User);
        if (!verdict.Trusted)
        {
            _note?.Invoke($"user certificate refused ({verdict.Status}): {verdict.Cause}");
            return null;
        }

        string sha256 = Convert.ToHexString(SHA256.HashData(certificate));
        UserEntry? user = Users().FirstOrDefault(u => string.Equals(u.CertificateSha256, sha256, StringComparison.Ordinal));
        if (user is null)
        {
            _note?.Invoke($"user certificate with SHA-256 {sha256} is trusted but belongs to no user; try edgeguard users add NAME --role ROLE --certificate FILE");
        }

        return user is null ? null : new UserIdentity(UserTokenType.Certificate, user.Name, Roles(user.Role));
    }

    /// <summary>The roles of the standard that a role of the file stands for; each includes the one before.</summary>
    public static CallerRoles Roles(UserRole role) => role switch
    {
        UserRole.Observer => CallerRoles.Anonymous | CallerRoles.AuthenticatedUser | CallerRoles.Observer,
        UserRole.Operator => Roles(UserRole.Observer) | CallerRoles.Operator,
        UserRole.Engineer => Roles(UserRole.Operator) | CallerRoles.Supervisor | CallerRoles.Engineer,
        _ => CallerRoles.None,
    };

    private IReadOnlyList<UserEntry> Users()
    {
        long monotonicMs = _clock().MonotonicMs;
        lock (_gate)
        {
            if (_mark is not null && monotonicMs - _lookedMs < LookAgainMs)
            {
                return _users;
            }

            _lookedMs = monotonicMs;
            var file = new FileInfo(_path);
            (bool Exists, long Bytes, long Ticks) mark = file.Exists ? (true, file.Length, file.LastWriteTimeUtc.Ticks) : default;
            if (_mark is null || _mark != mark)
            {
                (_mark, _users) = (mark, UserFile.TryRead(_path, out IReadOnlyList<string> faults) ?? []);
                Tell(faults);
            }

            return _users;
        }
    }

    private void Tell(IReadOnlyList<string> faults)
    {
        foreach (string fault in faults)
        {
            _note?.Invoke(fault);
        }

        _note?.Invoke(faults.Count == 0 ? $"{_path}: {_users.Count} users" : $"{_path}: not used, nobody can log in by name");
    }
}
