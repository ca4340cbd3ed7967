using System.Diagnostics;
using System.Globalization;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>A site whose guard starts its publisher itself, and that publisher as a process to be hurt.</summary>
internal static class KeptSite
{
    private const int PatienceMs = 60_000;

    public static string Write(TestFolder folder, PlantChild plant, int port) =>
        TestSite.N1(plant.Ports[0])
            .With("\"scanMs\": 100,", string.Create(CultureInfo.InvariantCulture, $"\"scanMs\": 100, \"publication\": {{ \"enabled\": true, \"port\": {port} }},"))
            .Write(folder.File("site"));

    /// <summary>Process id of the publisher after so many deaths.</summary>
    public static int PublisherOf(GuardChild guard, int deaths)
    {
        JournalRecord[] starts = [];
        Assert.True(SpinWait.SpinUntil(() => (starts = Starts(guard)).Length > deaths, PatienceMs), "the start of the publisher is not in the journal");
        return ProcessOf(starts[deaths]);
    }

    /// <summary>Process id of the publisher that was started last.</summary>
    public static int LastPublisher(GuardChild guard) => ProcessOf(Starts(guard)[^1]);

    public static void Signal(string signal, int process)
    {
        using Process kill = Process.Start("/bin/kill", ["-" + signal, process.ToString(CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
        Assert.Equal(0, kill.ExitCode);
    }

    private static int ProcessOf(JournalRecord start) => int.Parse(start["text"]!["process ".Length..], CultureInfo.InvariantCulture);

    private static JournalRecord[] Starts(GuardChild guard) =>
        [.. JournalLines.Read(guard.Data).Where(static r => r["event"] is "publisher-started" or "publisher-restarted")];
}
