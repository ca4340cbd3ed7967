using System.Diagnostics;
using System.Globalization;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>A plant and a guard that starts its publisher itself, as real processes, and that publisher to be hurt.</summary>
internal sealed class KeptSite : IDisposable
{
    private const int PatienceMs = 60_000;

    private readonly TestFolder _folder = new();
    private readonly PlantChild _plant;

    /// <summary>Starts all three and waits until the publisher answers.</summary>
    public KeptSite()
    {
        _plant = PlantChild.Start(_folder, "N-1");
        Port = TcpHello.FreePort();
        try
        {
            Guard = GuardChild.Start(_folder, Write());
        }
        catch
        {
            _plant.Dispose();
            throw;
        }

        try
        {
            TcpHello.AwaitAnswer(Port, PatienceMs);
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    public GuardChild Guard { get; }

    /// <summary>Where the publisher listens.</summary>
    public int Port { get; }

    /// <summary>Folder of the test.</summary>
    public string Folder => _folder.Path;

    /// <summary>Process id of the publisher that was started last.</summary>
    public int Publisher => ProcessOf(Starts()[^1]);

    /// <summary>How many publishers the guard has started.</summary>
    public int PublishersStarted => Starts().Length;

    /// <summary>Sends a signal to the publisher; returns its process id.</summary>
    public int Signal(string signal)
    {
        int publisher = Publisher;
        using Process kill = Process.Start("/bin/kill", ["-" + signal, publisher.ToString(CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
        Assert.Equal(0, kill.ExitCode);
        return publisher;
    }

    /// <summary>Waits until the guard has started so many publishers; process id of the last one.</summary>
    public int AwaitPublisher(int starts)
    {
        Assert.True(SpinWait.SpinUntil(() => PublishersStarted >= starts, PatienceMs), $"start {starts} of the publisher is not in the journal");
        return ProcessOf(Starts()[starts - 1]);
    }

    public void Dispose()
    {
        Guard.Dispose();
        _plant.Dispose();
        _folder.Dispose();
    }

    private string Write() => TestSite.N1(_plant.Ports[0])
        .With("\"scanMs\": 100,", string.Create(CultureInfo.InvariantCulture, $"\"scanMs\": 100, \"publication\": {{ \"enabled\": true, \"port\": {Port} }},"))
        .Write(_folder.File("site"));

    private static int ProcessOf(JournalRecord start) => int.Parse(start["text"]!["process ".Length..], CultureInfo.InvariantCulture);

    private JournalRecord[] Starts() =>
        [.. JournalLines.Read(Guard.Data).Where(static r => r["event"] is "publisher-started" or "publisher-restarted")];
}
