using System.Text.RegularExpressions;

namespace EdgeGuard.Architecture.Tests;

/// <summary>Rules of DEVELOPERS.md that a plain reading of the source can hold.</summary>
public sealed partial class SourceRuleTests
{
    private const int LinesMax = 400;

    [Fact]
    public void No_source_file_is_longer_than_400_lines()
    {
        string[] long_ = Sources().Where(f => File.ReadLines(f).Count() > LinesMax).Select(Relative).ToArray();
        Assert.True(long_.Length == 0, "over 400 lines: " + string.Join(", ", long_));
    }

    [Fact]
    public void No_leftover_markers_in_the_source()
    {
        string[] marked = Sources().Where(f => Leftover().IsMatch(File.ReadAllText(f))).Select(Relative).ToArray();
        Assert.True(marked.Length == 0, "leftover markers: " + string.Join(", ", marked));
    }

    [Fact]
    public void No_claim_of_a_safety_integrity_or_performance_level_in_the_source()
    {
        string[] claiming = RepoFolder.TrackedLikeFiles("src").Where(f => f.EndsWith(".cs", StringComparison.Ordinal) && Claim().IsMatch(File.ReadAllText(f))).Select(Relative).ToArray();
        Assert.True(claiming.Length == 0, "our functions are supervisory software interlocks, without a level: " + string.Join(", ", claiming));
    }

    [Fact]
    public void Only_the_fixed_folders_and_what_tools_demand_stand_at_the_top()
    {
        string[] expected =
        [
            ".ci", ".editorconfig", ".git", ".gitattributes", ".gitignore", "DEVELOPERS.md", "Directory.Build.props", "Directory.Build.targets", "Directory.Packages.props",
            "EdgeGuard.sln", "LICENSE", "README.md", "config", "deploy", "docs", "global.json", "src", "tests",
        ];
        string[] generated = ["artifacts", ".vs", ".idea", ".tools"];
        var found = Directory.EnumerateFileSystemEntries(RepoFolder.Root).Select(p => Path.GetFileName(p)!).Except(generated, StringComparer.Ordinal);
        Assert.Empty(found.Except(expected, StringComparer.Ordinal));
    }

    private static IEnumerable<string> Sources() => RepoFolder.TrackedLikeFiles("src", "tests").Where(f => f.EndsWith(".cs", StringComparison.Ordinal) && !f.EndsWith(".g.cs", StringComparison.Ordinal));

    private static string Relative(string path) => Path.GetRelativePath(RepoFolder.Root, path);

    // Written in pieces so that this file does not find itself.
    [GeneratedRegex("\\b(FIX" + "ME|TO" + "DO|XX" + "X|HA" + "CK)\\b")]
    private static partial Regex Leftover();

    [GeneratedRegex("\\b(SI" + "L [1-4]|SI" + "F|PL [a-e]|PL" + "r)\\b")]
    private static partial Regex Claim();
}
