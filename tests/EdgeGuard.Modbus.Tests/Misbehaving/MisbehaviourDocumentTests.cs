namespace EdgeGuard.Modbus.Tests.Misbehaving;

/// <summary>What the manual promises about faults is what the tests run. EDGEGUARD_GOLDEN=write puts the tables in again; look at the difference.</summary>
public sealed class MisbehaviourDocumentTests
{
    private const string Begin = "<!-- faults: made by MisbehaviourDocument -->";
    private const string End = "<!-- end of faults -->";

    [Fact]
    public void The_tables_of_faults_in_the_manual_are_those_of_the_tests()
    {
        string path = Path.Combine(Root(), "docs", "reference", "modbus.md");
        string text = File.ReadAllText(path);
        int begin = text.IndexOf(Begin, StringComparison.Ordinal) + Begin.Length;
        int end = text.IndexOf(End, StringComparison.Ordinal);
        Assert.True(begin >= Begin.Length && end > begin, "the marks of the tables are missing in " + path);
        string expected = "\n" + string.Join('\n', MisbehaviourDocument.Lines) + "\n";
        if (Environment.GetEnvironmentVariable("EDGEGUARD_GOLDEN") == "write")
        {
            File.WriteAllText(path, text[..begin] + expected + text[end..]);
        }

        Assert.Equal(expected, File.ReadAllText(path)[begin..].Split(End)[0]);
    }

    private static string Root()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "EdgeGuard.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("EdgeGuard.sln not found above " + AppContext.BaseDirectory);
    }
}
