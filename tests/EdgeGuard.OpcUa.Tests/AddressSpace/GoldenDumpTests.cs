using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.OpcUa.Tests.AddressSpace;

/// <summary>
/// The address space every client sees is a reviewed file. To accept a change: run the tests with EDGEGUARD_ACCEPT=1 and
/// read the diff.
/// </summary>
public sealed class GoldenDumpTests
{
    [Fact]
    public void The_standard_part_of_the_space_is_the_reviewed_one()
    {
        string path = RepoFile.Path("docs/reference/opcua-address-space.txt");
        string dump = Dump();
        if (Environment.GetEnvironmentVariable("EDGEGUARD_ACCEPT") == "1")
        {
            File.WriteAllText(path, dump);
        }

        string[] golden = File.ReadAllText(path).Split('\n');
        string[] actual = dump.Split('\n');
        for (int i = 0; i < Math.Min(golden.Length, actual.Length); i++)
        {
            Assert.True(golden[i] == actual[i], $"line {i + 1} of {path}\n  reviewed {golden[i]}\n  now      {actual[i]}");
        }

        Assert.Equal(golden.Length, actual.Length);
    }

    private static string Dump()
    {
        var test = new TestSpace(withUnits: false);
        using var text = new StringWriter { NewLine = "\n" };
        text.Write($"# Namespace 0, nodeset {test.Version}: number class name [attributes] (arguments) forward references by type\n");
        SpaceDump.Write(test.Space, 0, text);
        test.AddUnits();
        text.Write("# Namespace 2 as the builder makes it, two example units\n");
        SpaceDump.Write(test.Space, 2, text);
        return text.ToString();
    }
}
