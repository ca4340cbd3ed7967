using System.Text.Json;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Acceptance.Tests.Guarding;

/// <summary>
/// Alarms hidden by a person at a real guard beside the real plant, with the commands a person types: the shelf ends after its
/// time, hides no trip and no controlled shutdown, and stands in the journal with its person. In lock-step, so that a minute on
/// the shelf takes seconds. LEAK is the alarm that the example site lets be hidden.
/// </summary>
public sealed class ShelvingRunTests
{
    private const int ScansPerMinute = 600;
    private const string OfTrip = "the alarm is that of a trip";
    private const int LookScans = 20; // how often the status is asked for; the journal has the scan
    private const string Leakage = "fault earth-leakage N-1 "; // mA while a leg conducts; alarm from 20, limit 100 as root mean square (config/pilot-hall)

    [Trait("requirement", "ALRM-2")]
    [Trait("requirement", "ALRM-5")]
    [Trait("requirement", "ALRM-6")]
    [Trait("requirement", "ALRM-8")]
    [Fact]
    public void A_shelved_alarm_comes_back_after_its_minute_and_hides_neither_shutdown_nor_trip()
    {
        using var rig = new GuardRig(conducted: true);
        ConductedRunTests.Heat(rig);
        rig.Plant.Ask(Leakage + "60");
        ScanUntilAlarm(rig, "LEAK", static a => a is { State: "Unacknowledged", Condition: true }, 200);

        Shelve(rig, "TRIP", ExitCode.Found, OfTrip);
        Shelve(rig, "FLOW", ExitCode.Found, OfTrip);
        Shelve(rig, "LEAK", ExitCode.Good, "accepted");
        AlarmReport shelved = Alarm(rig, "LEAK")!;
        Assert.Equal(("Shelved", true), (shelved.State, shelved.Condition));
        Assert.Contains("A. Smith", shelved.HiddenBy, StringComparison.Ordinal);
        ScanUntilAlarm(rig, "LEAK", static a => a is { State: "Unacknowledged", Condition: true }, ScansPerMinute + 1);

        // On the shelf again, the leakage passes its limit: the heater is shut down, told or not. Then the gas fails.
        Shelve(rig, "LEAK", ExitCode.Good, "accepted");
        rig.Plant.Ask(Leakage + "400");
        rig.ScanUntil(static u => ConductedRunTests.State(u) == "LedCooldown", 200);
        Assert.Equal("Shelved", Alarm(rig, "LEAK")?.State);
        rig.Plant.Ask("fault blower-stop N-1");
        JsonElement tripped = rig.ScanUntil(static u => ConductedRunTests.State(u) == "Tripped", 100);
        Assert.Equal("FLOW", tripped.GetProperty("first_out").GetString());
        rig.ScanUntil(static u => u.GetProperty("power_kw").GetDouble() == 0, 20);
        Assert.Equal("Unacknowledged", Alarm(rig, "TRIP")?.State);
        Assert.Equal("Shelved", Alarm(rig, "LEAK")?.State);

        rig.Guard.Tell("stop");
        Assert.True(rig.Guard.WaitForExit(20_000));
        CheckJournal(JournalLines.LastRun(rig.Data));
        rig.RestartGuard();
        rig.Scan();
        Assert.DoesNotContain(rig.Status().Units[0].Alarms, static a => a.State == "Shelved");
        JournalRecord returned = Assert.Single(JournalLines.LastRun(rig.Data), static r => r["event"] == "hidden-alarm-returned");
        Assert.Contains("LEAK", returned["text"], StringComparison.Ordinal);
    }

    private static AlarmReport? Alarm(GuardRig rig, string alarm) => rig.Status().Units[0].Alarms.FirstOrDefault(a => a.Alarm == alarm);

    private static void ScanUntilAlarm(GuardRig rig, string alarm, Func<AlarmReport?, bool> reached, int scansMax)
    {
        for (int i = 0; i < scansMax + LookScans; i++)
        {
            rig.Scan();
            if (i % LookScans == 0 && reached(Alarm(rig, alarm)))
            {
                return;
            }
        }

        Assert.Fail($"not in {scansMax} scans: {alarm} is {Alarm(rig, alarm)}");
    }

    /// <summary>The command of a person; it waits for a scan that decides, so scans go on meanwhile.</summary>
    private static void Shelve(GuardRig rig, string alarm, int exitCode, string answer)
    {
        Task<CommandLine> asked = Task.Run(() => CommandLine.Run(
            "request", "shelve", alarm, "--for", "1m", "--unit", "N-1", "--person", "A. Smith", "--reason", "lining dries", "--site", rig.Site));
        while (!asked.IsCompleted)
        {
            rig.Scan();
            Thread.Sleep(20);
        }

        CommandLine done = asked.GetAwaiter().GetResult();
        Assert.True(done.ExitCode == exitCode, done.Output + done.Errors);
        Assert.Contains(answer, done.Output, StringComparison.Ordinal);
    }

    private static void CheckJournal(IReadOnlyList<JournalRecord> run)
    {
        IReadOnlyList<JournalRecord> shelved = [.. run.Where(static r => r["event"] == "alarm-shelved")];
        JournalRecord expired = Assert.Single(run, static r => r["event"] == "alarm-shelving-expired");
        Assert.Equal(2, shelved.Count);
        Assert.All([.. shelved, expired], static r => Assert.Equal(("N-1", "LEAK"), (r["unit"], r["function"])));
        Assert.Equal(ScansPerMinute + 1, Scan(expired) - Scan(shelved[0])); // a minute of scans on the shelf, the last one included
        Assert.Equal(2, run.Count(static r => r["event"] == "request-refused" && r["reason"]?.StartsWith(OfTrip, StringComparison.Ordinal) == true));
        IReadOnlyList<JournalRecord> asked = [.. run.Where(static r => r["event"] == "request-received" && r["person"]?.Contains("A. Smith", StringComparison.Ordinal) == true)];
        Assert.Equal(4, asked.Count);
        Assert.All(asked, static r => Assert.Equal("lining dries", r["reason"]));
        long shutDown = Scan(Assert.Single(run, static r => r["event"] == "controlled-shutdown" && r["function"] == "LEAK"));
        long tripped = Scan(run.Last(static r => r["event"] == "trip" && r["function"] == "FLOW"));
        Assert.True(Scan(shelved[1]) < shutDown && shutDown < tripped && tripped < Scan(shelved[1]) + ScansPerMinute, "shutdown and trip came while the alarm was on the shelf");
    }

    private static long Scan(JournalRecord record) => long.Parse(record["scan"]!, System.Globalization.CultureInfo.InvariantCulture);
}
