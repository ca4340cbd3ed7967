using System.Security.Cryptography;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.OpcUa.Sessions;
using EdgeGuard.Publication.Tests.Pki;
using EdgeGuard.Publication.Users;

namespace EdgeGuard.Publication.Tests.Users;

public sealed class FolderUsersTests : IDisposable
{
    private readonly PkiBench _bench = new();

    private string File => Path.Combine(_bench.Data, UserFile.Name);

    [Fact]
    public void A_user_is_known_by_name_and_password_and_has_the_roles_of_the_file()
    {
        UserFile.Write(File, [new("ines", UserRole.Operator, PasswordHash.Create("pellets 2026"u8), null)]);
        FolderUsers users = Users();
        UserIdentity ines = users.Find("ines", "pellets 2026"u8)!;
        Assert.Equal(new UserIdentity(UserTokenType.UserName, "ines", CallerRoles.Anonymous | CallerRoles.AuthenticatedUser | CallerRoles.Observer | CallerRoles.Operator), ines);
        Assert.Null(users.Find("ines", "pellets 2027"u8));
        Assert.Null(users.Find("Ines", "pellets 2026"u8));
        Assert.Null(users.Find("", ""u8));
    }

    [Fact]
    public void Each_role_includes_the_one_before_and_none_is_nothing()
    {
        Assert.Equal(CallerRoles.None, FolderUsers.Roles(UserRole.None));
        Assert.False(FolderUsers.Roles(UserRole.Observer).HasFlag(CallerRoles.Operator));
        Assert.False(FolderUsers.Roles(UserRole.Operator).HasFlag(CallerRoles.Engineer));
        Assert.True(FolderUsers.Roles(UserRole.Engineer).HasFlag(FolderUsers.Roles(UserRole.Operator) | CallerRoles.Supervisor));
        Assert.False(FolderUsers.Roles(UserRole.Engineer).HasFlag(CallerRoles.SecurityAdmin));
    }

    [Fact]
    public void A_removed_user_and_a_broken_file_count_within_a_second()
    {
        UserFile.Write(File, [new("ines", UserRole.Operator, PasswordHash.Create("pellets 2026"u8), null)]);
        FolderUsers users = Users();
        Assert.NotNull(users.Find("ines", "pellets 2026"u8));
        System.IO.File.WriteAllText(File, "{ broken");
        Assert.NotNull(users.Find("ines", "pellets 2026"u8));
        _bench.NowMs += 1000;
        Assert.Null(users.Find("ines", "pellets 2026"u8));
        Assert.Contains(_bench.Notes, static n => n.EndsWith("nobody can log in by name", StringComparison.Ordinal));
        System.IO.File.Delete(File);
        _bench.NowMs += 1000;
        Assert.Null(users.Find("ines", "pellets 2026"u8));
        UserFile.Write(File, [new("ines", UserRole.Observer, PasswordHash.Create("pellets 2028"u8), null)]);
        _bench.NowMs += 1000;
        Assert.Equal("ines", users.Find("ines", "pellets 2028"u8)!.Name);
    }

    [Fact]
    public void A_certificate_needs_trust_and_a_name()
    {
        string sha256 = Convert.ToHexString(SHA256.HashData(PkiBench.Client));
        FolderUsers users = Users();
        Assert.Null(users.Find(PkiBench.Client));
        Assert.Contains(_bench.Notes, static n => n.StartsWith("user certificate refused (BadCertificateUntrusted): not trusted: CN=client", StringComparison.Ordinal));
        System.IO.File.WriteAllBytes(Path.Combine(_bench.Paths.Users, "client.der"), PkiBench.Client);
        _bench.NowMs += 1000;
        Assert.Null(users.Find(PkiBench.Client));
        Assert.Contains(_bench.Notes, static n => n.Contains("belongs to no user", StringComparison.Ordinal));
        UserFile.Write(File, [new("ola", UserRole.Engineer, null, sha256)]);
        _bench.NowMs += 1000;
        Assert.Equal(new UserIdentity(UserTokenType.Certificate, "ola", FolderUsers.Roles(UserRole.Engineer)), users.Find(PkiBench.Client));
        Assert.Null(users.Find("ola", ""u8));
        Assert.Null(users.Find(PkiBench.Second));
    }

    [Fact]
    public void An_application_that_is_trusted_is_no_person()
    {
        System.IO.File.WriteAllBytes(Path.Combine(_bench.Paths.Trusted, "client.der"), PkiBench.Client);
        UserFile.Write(File, [new("ola", UserRole.Engineer, null, Convert.ToHexString(SHA256.HashData(PkiBench.Client)))]);
        Assert.Null(Users().Find(PkiBench.Client));
    }

    public void Dispose() => _bench.Dispose();

    private FolderUsers Users() => new(_bench.Data, _bench.Notes.Add, _bench.Clock);
}
