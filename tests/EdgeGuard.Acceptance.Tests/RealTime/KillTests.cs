using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Records.Journal;
using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.Acceptance.Tests.RealTime;

/// <summary>
/// The guard is killed (SIGKILL) twenty times at different moments. Nobody is left to remove power then but the watchdog of
/// the cabinet, and the independent ledger must show that it did. Four kills each on five plants that run at once.
/// <para>
/// Twelve processes on a few cores: a thread of this test may be held up for longer than the watchdog time. So nothing
/// is judged by when this test looked. The ledger stamps each change of power and the token before it in the plant's own
/// time, and the truth before and after the kill brackets it.
/// </para>
/// </summary>
public sealed class KillTests
{
    private const int Plants = 5;

    // The watchdog of N-1 is 2 s (config/pilot-hall); contactor and step of the ledger are within the 100 ms.
    private const long PowerOffLimitMs = 2_000 + 100;

    // 3 % of the rated power, from which the ledger counts a unit as powered, and well above that.
    private const double LedgerPoweredKw = 1.08;
    private const double PoweredKw = 3.0;

    private static readonly KillMoment[] Moments = [KillMoment.PreFlow, KillMoment.Heating, KillMoment.Holding, KillMoment.Requests];

    [Trait("requirement", "KILL-1")]
    [Fact]
    public async Task Twenty_kills_remove_power_within_the_watchdog_time_and_leave_a_whole_journal()
    {
        int[] kills = await Task.WhenAll(Enumerable.Range(0, Plants).Select(static p => Task.Factory.StartNew(() => KillOnOnePlant(p), TestContext.Current.CancellationToken, TaskCreationOptions.LongRunning, TaskScheduler.Default)));
        Assert.Equal(20, kills.Sum());
    }

    private static int KillOnOnePlant(int index)
    {
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        // A low target reached soon makes holding, a high one keeps heating. The steep ramp asks for so much power that
        // the controller does not fade it out by itself before the watchdog takes it.
        string site = TestSite.N1(plant.Ports[0]).Quick().Patient()
            .With("\"rampUpKPerMin\": 60,", "\"rampUpKPerMin\": 1000, \"heatAlarmKPerMin\": 5000,")
            .With("\"setpointC\": 650", index % 2 == 0 ? "\"setpointC\": 650" : "\"setpointC\": 120")
            .Write(folder.File("site"));
        GuardChild guard = GuardChild.Start(folder, site);
        try
        {
            for (int i = 0; i < Moments.Length; i++)
            {
                KillMoment moment = index % 2 == 0 && Moments[i] == KillMoment.Holding ? KillMoment.Heating : Moments[i];
                KillOnce(plant, guard, moment);
                guard.Dispose();
                guard = GuardChild.Start(folder, site);
                CheckRestart(plant, guard, site);
            }
        }
        finally
        {
            guard.Dispose();
        }

        return Moments.Length;
    }

    private static void KillOnce(PlantChild plant, GuardChild guard, KillMoment moment)
    {
        guard.StartUnit();
        using var stop = new CancellationTokenSource();
        BringTo(plant, guard, moment, stop.Token);
        CabinetTruth before = plant.Truth();
        guard.Kill();
        CabinetTruth after = plant.Truth();
        stop.Cancel();
        Assert.True(moment == KillMoment.PreFlow || before.PowerKw > LedgerPoweredKw, $"no power before the kill, nothing would be tested: {before} ({MachineLoad.Now()})");
        plant.Await("watchdog over", t => t.AtMs >= after.AtMs + PowerOffLimitMs + 50);
        Judge(plant, moment, before, after);
    }

    private static void BringTo(PlantChild plant, GuardChild guard, KillMoment moment, CancellationToken stop)
    {
        if (moment == KillMoment.PreFlow)
        {
            plant.Await("blower runs up", static t => t.BlowerPercent > 0);
            return;
        }

        plant.Await("power flows", static t => t.PowerKw > PoweredKw);
        if (moment == KillMoment.Holding)
        {
            guard.Await("holding", static s => GuardChild.StateOf(s) == "Holding");
            plant.Await("power flows while holding", static t => t.PowerKw > PoweredKw);
        }
        else if (moment == KillMoment.Requests)
        {
            new Thread(() => Pester(guard, stop)) { IsBackground = true }.Start();
            Thread.Sleep(300);
        }
    }

    // Requests that are refused, accepted without an effect, and mere questions, as fast as they are answered.
    private static void Pester(GuardChild guard, CancellationToken stop)
    {
        string[] kinds = ["acknowledge", "start", "reset"];
        try
        {
            for (int i = 0; !stop.IsCancellationRequested; i++)
            {
                guard.Ask(kinds[i % kinds.Length]);
                guard.TryStatus();
            }
        }
        catch (Exception e) when (e is System.Net.Sockets.SocketException or System.Text.Json.JsonException)
        {
            // The guard is killed in the middle of an answer: that is what this is for.
        }
    }

    private static void Judge(PlantChild plant, KillMoment moment, CabinetTruth before, CabinetTruth after)
    {
        CabinetTruth now = plant.Truth();
        Assert.Equal(0.0, now.PowerKw);
        Assert.NotEqual(PermitState.Permitted, now.Permit);
        IReadOnlyList<PowerTransition> since = [.. plant.Ledger().PowerTransitions.Where(t => t.AtMs >= before.AtMs)];
        if (moment == KillMoment.PreFlow && since.Count == 0)
        {
            Assert.True(before.PowerKw < LedgerPoweredKw, "power that flowed is gone without an entry");
            return; // killed before power: it never came
        }

        PowerTransition off = since[^1];
        Assert.False(off.On, "power is still on");
        Assert.Equal(PermitState.WatchdogExpired, off.Permit);
        Assert.InRange(off.SinceTokenMs, 1, PowerOffLimitMs);
        Assert.InRange(off.AtMs, before.AtMs, after.AtMs + PowerOffLimitMs);
    }

    // The line is written a moment after the scan that decided it.
    private static IReadOnlyList<JournalRecord> AwaitFoundOutputs(GuardChild guard)
    {
        for (int i = 0; ; i++)
        {
            IReadOnlyList<JournalRecord> run = JournalLines.LastRun(guard.Data);
            if (i == 600 || run.Any(static r => r["event"] == "found-outputs"))
            {
                return run;
            }

            Thread.Sleep(100);
        }
    }

    private static void CheckRestart(PlantChild plant, GuardChild guard, string site)
    {
        Assert.Equal("Tripped", GuardChild.StateOf(guard.Await("a status", static s => s.Scan >= 0)));
        guard.Await("scans that see the cabinet", static s => s.Scan > 3 && s.Units[0].Signals.All(static v => v.Good));
        IReadOnlyList<JournalRecord> run = AwaitFoundOutputs(guard);
        Assert.Equal((int)ShellEventId.UncleanStopFound, run[0].EventId);
        Assert.Contains(run, static r => r["event"] == "found-outputs" && r["unit"] == "N-1");
        Assert.DoesNotContain(run, static r => r["event"] == "permit-granted");
        CommandLine verified = CommandLine.Run("journal", "verify", site);
        Assert.True(verified.ExitCode == ExitCode.Good, verified.Output + verified.Errors);
        Assert.Equal(0.0, plant.Truth().PowerKw);
    }
}
