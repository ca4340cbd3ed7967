using EdgeGuard.Acceptance.Tests.Rigs;

namespace EdgeGuard.Acceptance.Tests.Processes;

/// <summary>The native binary as it is shipped. Where it cannot be published these tests fail; they are never skipped.</summary>
public sealed class NativeBinaryTests
{
    // The native compiler says nothing while it works: a minute or two on a quiet machine, more beside other tests.
    private const int CompileMs = 30 * 60_000;

    private static readonly Lazy<string> Binary = new(Publish);

    [Fact]
    public void It_says_its_version()
    {
        CommandLine version = CommandLine.RunProgram(Binary.Value, "version");
        Assert.Equal(ExitCode.Good, version.ExitCode);
        // Without the commit behind the plus sign: the binary is not published anew for a commit that changes no source.
        Assert.Equal(CommandLine.Run("version").Output.Split('+')[0].Trim(), version.Output.Split('+')[0].Trim());
    }

    [Fact]
    public void It_loads_the_example_site_and_finds_the_same_digest()
    {
        string site = Repository.File("config", "pilot-hall");
        CommandLine check = CommandLine.RunProgram(Binary.Value, "check", site);
        Assert.True(check.ExitCode == ExitCode.Good, check.Output + check.Errors);
        Assert.Equal(CommandLine.Run("check", site).Output, check.Output);
        Assert.Contains("No faults.", check.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void It_plays_the_demo_and_every_limit_is_kept()
    {
        using var folder = new TestFolder();
        CommandLine demo = CommandLine.RunProgram(Binary.Value, "demo", "--out", folder.File("demo"));
        Assert.True(demo.ExitCode == ExitCode.Good, demo.Output + demo.Errors);
        Assert.True(new FileInfo(folder.File("demo/ledger.jsonl")).Length > 0, "no ledger");
    }

    // Publishes only when a source is newer than the binary; tests/check has done that already.
    private static string Publish()
    {
        CommandLine publish = CommandLine.RunProgram(CompileMs, Repository.File("tests", "tools", "publish-native"));
        Assert.True(publish.ExitCode == 0, publish.Output + publish.Errors);
        return Repository.File(publish.Output.Trim());
    }
}
