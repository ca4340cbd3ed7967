using System.Globalization;

namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>
/// A site of one unit (N-1) or of both, derived from config/pilot-hall by replacing text: ports and times. Limits,
/// register maps and everything else stay those of the example, so that what is tested is what is shipped. A text that
/// is not there any more is an error and not silently left out.
/// </summary>
internal sealed class TestSite
{
    private string _text = File.ReadAllText(Repository.File("config", "pilot-hall", "site.json"));

    private TestSite()
    {
    }

    /// <summary>The pilot hall with both units.</summary>
    public static TestSite Hall(int portN1, int portA1) =>
        new TestSite()
            .With("\"port\": 15020", Port(portN1))
            .With("\"port\": 15021", Port(portA1))
            .WithoutSchema();

    /// <summary>The pilot hall with N-1 alone.</summary>
    public static TestSite N1(int port)
    {
        var site = new TestSite();
        int a1 = site._text.IndexOf("    {\n      \"name\": \"A-1\"", StringComparison.Ordinal);
        int end = site._text.IndexOf("  ],\n}", a1, StringComparison.Ordinal);
        site._text = site._text.Remove(a1, end - a1);
        site._text = string.Join('\n', site._text.Split('\n').Where(static l => !l.Contains("\"a1", StringComparison.Ordinal)));
        return site.With("\"port\": 15020", Port(port)).WithoutSchema();
    }

    /// <summary>
    /// Times so short that a unit heats a few seconds after its start: pre-flow and power proof of some scans, the
    /// blower at its full demand (it runs up faster), heat counted as stored only in a really hot element.
    /// </summary>
    public TestSite Quick() =>
        With("\"preFlowMs\": 30000, \"hotPreFlowMs\": 5000", "\"preFlowMs\": 200, \"hotPreFlowMs\": 200")
            .With("\"provingKgPerHour\": 130", "\"provingKgPerHour\": 110")
            .With("\"blowerRunPercent\": 80", "\"blowerRunPercent\": 100")
            .With("\"resd\": { \"firingCycleMs\": 500 }", "\"resd\": { \"firingCycleMs\": 100, \"blankingMs\": 200, \"proofMs\": 200 }")
            .With("\"afterCoolingBelowC\": 150", "\"afterCoolingBelowC\": 500");

    /// <summary>
    /// A link and functions that wait for what a loaded machine holds up, as far as the watchdog allows. What is tested
    /// then is what the guard does, not how soon the machine lets it.
    /// </summary>
    public TestSite Patient() =>
        With("\"host\": \"127.0.0.1\",", "\"host\": \"127.0.0.1\", \"answerMs\": 900,")
            .With("\"setpointC\": 650", "\"setpointC\": 650, \"comm\": { \"limitMs\": 2000 }, \"sens\": { \"staleMs\": 1000 }");

    /// <summary>Replaces every occurrence of a text of the example.</summary>
    public TestSite With(string old, string replacement)
    {
        Assert.Contains(old, _text, StringComparison.Ordinal);
        _text = _text.Replace(old, replacement, StringComparison.Ordinal);
        return this;
    }

    /// <summary>Writes the site folder and returns its path.</summary>
    public string Write(string folder)
    {
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "site.json"), _text);
        foreach (string map in (string[])["cabinet.csv", "meter.csv"])
        {
            File.Copy(Repository.File("config", "pilot-hall", map), Path.Combine(folder, map));
        }

        return folder;
    }

    private static string Port(int port) => "\"port\": " + port.ToString(CultureInfo.InvariantCulture);

    // The schema lies beside the example, not beside this copy.
    private TestSite WithoutSchema() => With("  \"$schema\": \"../site.schema.json\",\n", "");
}
