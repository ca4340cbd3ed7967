namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// Runs every file of tests/scenarios: the script above the line "----", the expected log below it. After a wanted
/// change of behaviour set EDGEGUARD_UPDATE_SCENARIOS=1, run once and review the difference like any other change.
/// </summary>
public sealed class ScenarioTests
{
    private const string Divider = "----";

    public static TheoryData<string> Files()
    {
        var files = new TheoryData<string>();
        foreach (string path in Directory.EnumerateFiles(Folder(), "*.txt").Order(StringComparer.Ordinal))
        {
            files.Add(Path.GetFileName(path));
        }

        return files;
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void Scenario_gives_the_expected_log(string file)
    {
        string path = Path.Combine(Folder(), file);
        string[] lines = File.ReadAllLines(path);
        int divider = Array.IndexOf(lines, Divider);
        Assert.True(divider > 0, file + " has no line ----");
        string found = new ScenarioRunner().Run(lines[..divider]);
        string script = string.Join('\n', lines[..divider]) + "\n" + Divider + "\n";
        if (Environment.GetEnvironmentVariable("EDGEGUARD_UPDATE_SCENARIOS") == "1")
        {
            File.WriteAllText(path, script + found);
        }

        string expected = string.Concat(lines[(divider + 1)..].Select(l => l + "\n"));
        Assert.NotEmpty(found);
        Assert.Equal(expected, found);
    }

    [Fact]
    public void Every_protective_function_stands_in_a_scenario()
    {
        string all = string.Concat(Directory.EnumerateFiles(Folder(), "*.txt").Select(File.ReadAllText));
        string[] functions = Enum.GetNames<EdgeGuard.Core.Interlocks.FunctionId>();
        string[] missing = [.. functions.Where(f => f is not ("None" or "Self") && !all.Contains(' ' + f, StringComparison.Ordinal))];
        Assert.Empty(missing);
    }

    private static string Folder()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "EdgeGuard.sln")))
        {
            folder = folder.Parent;
        }

        return Path.Combine(folder?.FullName ?? throw new InvalidOperationException("The repository root was not found."), "tests", "scenarios");
    }
}
