using EdgeGuard.VirtualPlant.Process;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Process;

/// <summary>The process as a conductor sees it: ready line, one answer a line, ledger and trace at the end.</summary>
public sealed class PlantProcessTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("plant").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_conducted_plant_answers_line_by_line_and_leaves_ledger_and_trace()
    {
        string ledger = Path.Combine(_folder, "ledger.jsonl");
        string trace = Path.Combine(_folder, "trace.csv");
        string[] lines = Run(Options() with { LedgerFile = ledger, TraceFile = trace }, "key A-1 local\nadvance 60000\nwrong\nquit\nadvance 5\n");
        Assert.Matches(@"^ready N-1=127\.0\.0\.1:\d+ A-1=127\.0\.0\.1:\d+$", lines[0]);
        Assert.Equal(["ok key A-1 local at 0", "at 60000"], lines[1..3]);
        Assert.StartsWith("error: ", lines[3], StringComparison.Ordinal);
        Assert.Equal("bye at 60000", lines[4]);
        Assert.Equal(5, lines.Length);
        Assert.Equal(3, File.ReadAllLines(ledger).Length);
        string[] rows = File.ReadAllLines(trace);
        Assert.Equal(TraceWriter.Header, rows[0]);
        Assert.Equal(1 + (2 * 60), rows.Length);
        Assert.StartsWith("2026-01-05T06:01:00.000Z,A-1,", rows[^1], StringComparison.Ordinal);
        Assert.All(rows, row => Assert.Equal(rows[0].Count(c => c == ','), row.Count(c => c == ',')));
    }

    [Fact]
    public void The_end_of_the_input_ends_the_plant_and_the_trace_is_appended_to()
    {
        string trace = Path.Combine(_folder, "trace.csv");
        Run(Options() with { TraceFile = trace }, "advance 1000\n");
        Run(Options() with { TraceFile = trace }, "advance 1000\n");
        Assert.Equal(1 + 4, File.ReadAllLines(trace).Length);
    }

    [Fact]
    public void In_real_time_the_plant_keeps_pace_with_the_clock()
    {
        var plant = new Plant([PlantProfiles.N1], DateTime.UnixEpoch);
        var clock = System.Diagnostics.Stopwatch.StartNew(); // before the loop: it may run at once
        using (new RealTimeLoop(plant))
        {
            Thread.Sleep(500);
            Assert.True(SpinWait.SpinUntil(() => plant.NowMs >= 100, 60_000), "the plant stands");
            long plantMs = plant.NowMs;
            // Only above: a busy machine may hold the plant up, but it must not race.
            Assert.InRange(plantMs, 100, clock.ElapsedMilliseconds + 5);
        }
    }

    private static PlantOptions Options() => new()
    {
        Profiles = [PlantProfiles.N1, PlantProfiles.A1],
        Port = 0,
        StartUtc = new DateTime(2026, 1, 5, 6, 0, 0, DateTimeKind.Utc),
        Conducted = true,
    };

    private static string[] Run(PlantOptions options, string commands)
    {
        var output = new StringWriter { NewLine = "\n" };
        using var process = new PlantProcess(options, output);
        process.Run(new StringReader(commands));
        return output.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }
}
