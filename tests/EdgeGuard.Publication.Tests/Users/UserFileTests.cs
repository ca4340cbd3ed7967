using EdgeGuard.OpcUa.Security;
using EdgeGuard.Publication.Users;

namespace EdgeGuard.Publication.Tests.Users;

public sealed class UserFileTests : IDisposable
{
    private const string Password = "\"salt\":\"AAAAAAAAAAAAAAAAAAAAAA==\",\"iterations\":210000,\"hash\":\"AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA=\"";

    private readonly string _folder = Directory.CreateTempSubdirectory("eg-users-").FullName;

    private string File => Path.Combine(_folder, UserFile.Name);

    [Fact]
    public void What_is_written_is_read_and_for_the_owner_only()
    {
        UserEntry[] users = [new("ines", UserRole.Operator, PasswordHash.Create("pellets 2026"u8), null), new("ola", UserRole.Engineer, null, new string('A', 64))];
        UserFile.Write(File, users);
        IReadOnlyList<UserEntry> read = UserFile.TryRead(File, out _)!;
        Assert.Equal(["ines", "ola"], read.Select(static u => u.Name));
        Assert.Equal([UserRole.Operator, UserRole.Engineer], read.Select(static u => u.Role));
        Assert.Equal(users[0].Password!.Hash, read[0].Password!.Hash);
        Assert.Equal(users[1].CertificateSha256, read[1].CertificateSha256);
        Assert.DoesNotContain("pellets", System.IO.File.ReadAllText(File), StringComparison.Ordinal);
        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, System.IO.File.GetUnixFileMode(File));
        }
    }

    [Fact]
    public void No_file_is_no_user() => Assert.Empty(UserFile.TryRead(File, out _)!);

    [Theory]
    [InlineData("", "users.json:1:1: not the file")]
    [InlineData("[]", "not the file")]
    [InlineData("{\"users\":[{\"name\":\"a\",\"role\":\"operator\",\"root\":true}]}", "not the file")]
    [InlineData("{\"users\":[{\"name\":\"a\",\"role\":\"operator\",\"role\":\"engineer\"}]}", "not the file")]
    [InlineData("{\"users\":[{\"name\":\"a b\",\"role\":\"operator\"," + Password + "}]}", "user 1: name")]
    [InlineData("{\"users\":[{\"name\":\"a\",\"role\":\"root\"," + Password + "}]}", "user 1 (a): role: expected observer, operator or engineer")]
    [InlineData("{\"users\":[{\"name\":\"a\",\"role\":\"operator\"}]}", "user 1 (a): neither password nor certificate")]
    [InlineData("{\"users\":[{\"name\":\"a\",\"role\":\"operator\",\"certificateSha256\":\"aa\"}]}", "certificateSha256: expected 64")]
    [InlineData("{\"users\":[{\"name\":\"a\",\"role\":\"operator\",\"salt\":\"AA==\",\"iterations\":210000,\"hash\":\"AA==\"}]}", "salt: expected")]
    [InlineData("{\"users\":[{\"name\":\"a\",\"role\":\"operator\"," + Password + "},{\"name\":\"a\",\"role\":\"observer\"," + Password + "}]}", "user 2: name")]
    public void One_wrong_entry_makes_the_whole_file_unusable(string text, string fault)
    {
        System.IO.File.WriteAllText(File, text);
        Assert.Null(UserFile.TryRead(File, out IReadOnlyList<string> faults));
        Assert.Contains(faults, f => f.Contains(fault, StringComparison.Ordinal));
    }

    [Fact]
    public void Few_iterations_in_the_file_are_refused()
    {
        System.IO.File.WriteAllText(File, "{\"users\":[{\"name\":\"a\",\"role\":\"operator\"," + Password.Replace("210000", "1000", StringComparison.Ordinal) + "}]}");
        Assert.Null(UserFile.TryRead(File, out IReadOnlyList<string> faults));
        Assert.Contains("iterations: found 1000; expected 210000", Assert.Single(faults), StringComparison.Ordinal);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);
}
