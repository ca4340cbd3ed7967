using System.Diagnostics;
using System.Text.Json;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Demo;
using EdgeGuard.Records.Kept;
using EdgeGuard.Service.Requests;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.Acceptance.Tests.Guarding;

/// <summary>Plant and guard as real processes in real time: stop, kill, second start, allocation, bad site.</summary>
public sealed class RealTimeRunTests
{
    [Trait("requirement", "KILL-2")]
    [Fact]
    public void Sigterm_while_heating_removes_power_confirms_it_and_ends_with_a_clean_stop()
    {
        using GuardRig rig = Heating();
        rig.StatusUntil(_ => Ledger(rig).PowerTransitions is [.., { On: true }]);
        Terminate(rig.Guard);
        Assert.True(rig.Guard.WaitForExit(GuardRig.PatienceMs));
        Assert.Equal(ExitCode.Good, rig.Guard.ExitCode);
        // By the ledger the guard itself took the power, not the watchdog after it, and the blower was left as it ran.
        UnitLedgerReport ledger = Ledger(rig);
        PowerTransition off = ledger.PowerTransitions[^1];
        Assert.Equal((false, PermitState.Withdrawn), (off.On, off.Permit));
        Assert.Equal(0, ledger.BlowerLoweredUnderPower);
        Assert.Contains("\"blowerPercent\":80", rig.Plant.Ask("state N-1"), StringComparison.Ordinal);
        string[] journal = rig.Journal();
        Assert.Contains(journal, static l => l.Contains("\"event\":\"stop-asked\"", StringComparison.Ordinal));
        Assert.Contains(journal, static l => l.Contains("\"event\":\"permit-withdrawn\"", StringComparison.Ordinal) && l.Contains("\"function\":\"STOP\"", StringComparison.Ordinal));
        Assert.Contains("\"event\":\"clean-stop\"", journal[^1], StringComparison.Ordinal);
    }

    [Fact]
    public void After_a_kill_the_next_run_says_so_first_and_comes_up_tripped()
    {
        using GuardRig rig = Heating();
        rig.Guard.Kill();
        rig.Guard.WaitForExit(GuardRig.PatienceMs);
        int before = rig.Journal().Length;
        rig.RestartGuard();
        UnitStatus unit = rig.StatusUntil(static s => s.Scan > 5).Units[0];
        Assert.Equal(("Tripped", "START", false), (unit.State, unit.FirstOut, unit.Permit));
        string[] journal = rig.Journal();
        Assert.Contains("\"event\":\"unclean-stop-found\"", journal[before], StringComparison.Ordinal);
        Assert.Contains(journal[before..], static l => l.Contains("\"event\":\"found-outputs\"", StringComparison.Ordinal));
    }

    // Killed (SIGKILL) while it heats: of what was counted at most the last interval (here 1 s) is missing. Trips count as they are
    // journalled, energy by the plant's own ledger of what it drew.
    [Trait("requirement", "KEEP-2")]
    [Fact]
    public void After_a_kill_at_most_the_last_interval_of_the_figures_is_missing()
    {
        using GuardRig rig = Heating(static site => site.Replace("\"scanMs\": 100,", "\"scanMs\": 100,\n  \"keepSeconds\": 1,", StringComparison.Ordinal));
        UnitStatus before = rig.StatusUntil(static s => s.Units[0].Use is { KilowattHours: > 0.001 }).Units[0];
        AwaitSaved(rig, before.Use!.KilowattHours);
        rig.Guard.Kill();
        rig.Guard.WaitForExit(GuardRig.PatienceMs);
        Assert.Contains("\nheating 1\n", File.ReadAllText(Path.Combine(rig.Data, "kept", "N-1.txt")), StringComparison.Ordinal);
        rig.RestartGuard();
        UnitStatus after = rig.StatusUntil(static s => s.Scan > 5).Units[0];
        Assert.Equal(before.Use!.SinceUtcMs, after.Use!.SinceUtcMs);
        Assert.InRange(after.Use.KilowattHours, before.Use.KilowattHours, double.PositiveInfinity);
        Assert.InRange(after.Use.PoweredHours, before.Use.PoweredHours, double.PositiveInfinity);
        Assert.Equal(before.Use.ContactorClosings, after.Use.ContactorClosings);
        Assert.Contains(rig.Journal(), static l => l.Contains("\"event\":\"figures-taken\"", StringComparison.Ordinal));
    }

    [Fact]
    public void A_second_guard_on_the_same_data_folder_is_refused_and_the_first_goes_on()
    {
        using var rig = new GuardRig(conducted: false);
        rig.StatusUntil(static s => s.Scan > 1);
        using ChildProcess second = rig.Start("second", "run", rig.Site);
        Assert.True(second.WaitForExit(GuardRig.PatienceMs));
        Assert.Equal(ExitCode.Unavailable, second.ExitCode);
        Assert.Contains("another guard is running on this data folder", SharedText.Read(rig.ErrorLog("second")), StringComparison.Ordinal);
        long scan = rig.Status().Scan;
        rig.StatusUntil(s => s.Scan > scan);
    }

    [Trait("requirement", "CONF-1")]
    [Fact]
    public void A_broken_site_starts_nothing_and_prints_every_fault()
    {
        string folder = Directory.CreateTempSubdirectory("edgeguard").FullName;
        File.WriteAllText(Path.Combine(folder, "site.json"), "{ \"site\": \"x\", \"scanMs\": -1, \"surprise\": 1 }");
        string log = Path.Combine(folder, "run.err");
        using (ChildProcess run = ChildProcess.Start(GuardRig.Program, log, "run", folder))
        {
            Assert.True(run.WaitForExit(GuardRig.PatienceMs));
            Assert.Equal(ExitCode.Configuration, run.ExitCode);
        }

        string printed = SharedText.Read(log);
        Assert.Contains("scanMs", printed, StringComparison.Ordinal);
        Assert.Contains("surprise", printed, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(folder, "data")));
        Directory.Delete(folder, recursive: true);
    }

    // A moment after the interval, which on a busy or slow machine is later; much sooner than the minute of a site that states none.
    private static void AwaitSaved(GuardRig rig, double kilowattHours)
    {
        const int WithinMs = 30_000;
        string file = Path.Combine(rig.Data, "kept", "N-1.txt");
        bool saved = SpinWait.SpinUntil(
            () =>
            {
                Thread.Sleep(100);
                return File.Exists(file) && KeptCodec.TryRead(File.ReadAllBytes(file), out KeptRecord? record, out _) && KilowattHours(record!) >= kilowattHours;
            },
            WithinMs);
        Assert.True(saved, $"the figures of {kilowattHours} kWh were not saved within {WithinMs} ms");
    }

    private static double KilowattHours(KeptRecord record) => ((record.Duty.RemainderJoule / 3_600) + record.Duty.WattHours) / 1_000;

    private static GuardRig Heating(Func<string, string>? edit = null)
    {
        // Pre-flow is shortened so that the test takes seconds; what is proved does not change.
        var rig = new GuardRig(conducted: false, site => (edit?.Invoke(site) ?? site).Replace("\"preFlowMs\": 30000", "\"preFlowMs\": 2000", StringComparison.Ordinal).Replace("\"hotPreFlowMs\": 5000", "\"hotPreFlowMs\": 1000", StringComparison.Ordinal));
        rig.StatusUntil(static s => s.Units[0].PowerProvedOff);
        Assert.Equal("accepted", rig.Request("reset").Result);
        Assert.Equal("accepted", rig.Request("start").Result);
        rig.StatusUntil(static s => s.Units[0] is { State: "Heating", Permit: true });
        return rig;
    }

    private static UnitLedgerReport Ledger(GuardRig rig) => JsonSerializer.Deserialize(rig.Plant.Ask("ledger N-1"), PlantJson.Default.UnitLedgerReport)!;

    private static void Terminate(ChildProcess process)
    {
        using Process kill = Process.Start("kill", ["-TERM", process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
        Assert.Equal(0, kill.ExitCode);
    }
}
