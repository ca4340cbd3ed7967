using System.Diagnostics;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.Publication.Tests.Pki;
using EdgeGuard.Publication.Users;

namespace EdgeGuard.Publication.Tests.Users;

/// <summary>The real program; the password comes by its standard input.</summary>
public sealed class UsersCommandTests : IDisposable
{
    private readonly TestFolder _folder = new();
    private readonly string _site;

    public UsersCommandTests()
    {
        _site = TestSite.N1(15020).Write(_folder.File("site"));
    }

    private string File => Path.Combine(_site, "data", UserFile.Name);

    [Fact]
    public void Users_are_added_listed_changed_and_removed()
    {
        (int code, string text) = Users("pellets 2026", "add", "ines", "--role", "operator");
        Assert.True(code == 0, text);
        Assert.DoesNotContain("pellets", text, StringComparison.Ordinal);
        Assert.True(PasswordHash.Matches(Read()[0].Password, "pellets 2026"u8));
        Assert.Equal(0, Users("pellets 2027", "passwd", "ines").Code);
        Assert.True(PasswordHash.Matches(Read()[0].Password, "pellets 2027"u8));

        string certificate = _folder.File("ola.der");
        System.IO.File.WriteAllBytes(certificate, PkiBench.Make("ola", DateTime.UtcNow));
        Assert.Equal(0, Users("", "add", "ola", "--role", "engineer", "--certificate", certificate).Code);
        string list = Users("", "list").Text;
        Assert.Contains("ines                     operator  password", list, StringComparison.Ordinal);
        Assert.Contains("ola                      engineer  certificate SHA-256 ", list, StringComparison.Ordinal);
        Assert.Equal(0, Users("", "remove", "ines").Code);
        Assert.Equal("ola", Assert.Single(Read()).Name);
    }

    [Theory]
    [InlineData("short", 1, "found 5 bytes; expected 8 to 256 bytes", "add", "ines", "--role", "operator")]
    [InlineData("pellets 2026", 64, "expected 1 to 64 letters", "add", "in es", "--role", "operator")]
    [InlineData("pellets 2026", 64, "observer, operator or engineer", "add", "ines", "--role", "root")]
    [InlineData("", 1, "no such user", "remove", "nobody")]
    [InlineData("pellets 2026", 1, "no such user", "passwd", "nobody")]
    public void What_is_wrong_is_refused_and_changes_nothing(string input, int code, string message, params string[] arguments)
    {
        (int found, string text) = Users(input, arguments);
        Assert.Equal(code, found);
        Assert.Contains(message, text, StringComparison.Ordinal);
        Assert.False(System.IO.File.Exists(File));
    }

    public void Dispose() => _folder.Dispose();

    private IReadOnlyList<UserEntry> Read() => UserFile.TryRead(File, out _) ?? throw new InvalidOperationException("the file of users is wrong");

    private (int Code, string Text) Users(string input, params string[] arguments)
    {
        var info = new ProcessStartInfo(Repository.Program, ["users", .. arguments, "--site", _site]) { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        using Process process = Process.Start(info)!;
        process.StandardInput.WriteLine(input);
        process.StandardInput.Close();
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd() + errors.GetAwaiter().GetResult();
        process.WaitForExit();
        return (process.ExitCode, output);
    }
}
