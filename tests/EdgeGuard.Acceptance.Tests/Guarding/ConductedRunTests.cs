using System.Text.Json;

namespace EdgeGuard.Acceptance.Tests.Guarding;

/// <summary>Plant and guard as real processes over real sockets, in lock-step.</summary>
public sealed class ConductedRunTests
{
    [Fact]
    public void The_unit_is_heated_only_after_reset_start_and_proving_and_a_stopped_blower_trips_it()
    {
        using var rig = new GuardRig(conducted: true);
        Heat(rig);
        Assert.StartsWith("ok", rig.Plant.Ask("fault blower-stop N-1"), StringComparison.Ordinal);
        JsonElement tripped = rig.ScanUntil(static u => State(u) == "Tripped", 100);
        Assert.Equal("FLOW", tripped.GetProperty("first_out").GetString());
        Assert.False(tripped.GetProperty("permit").GetBoolean());
        // The cabinet itself says that power is off, not only the guard.
        rig.ScanUntil(static u => u.GetProperty("power_kw").GetDouble() == 0 && u.GetProperty("relay").GetDouble() == 0, 20);
        rig.Guard.Tell("stop");
        Assert.True(rig.Guard.WaitForExit(GuardRig.PatienceMs));
        Assert.Equal(ExitCode.Good, rig.Guard.ExitCode);
        string[] journal = rig.Journal();
        Assert.Contains("\"event\":\"first-run\"", journal[0], StringComparison.Ordinal);
        Assert.Contains("\"event\":\"run-started\"", journal[1], StringComparison.Ordinal);
        Assert.Contains("\"event\":\"clean-stop\"", journal[^1], StringComparison.Ordinal);
        Assert.Contains(journal, static l => l.Contains("\"event\":\"trip\"", StringComparison.Ordinal) && l.Contains("\"function\":\"FLOW\"", StringComparison.Ordinal));
    }

    [Fact]
    public void Two_conducted_runs_are_equal_answer_for_answer()
    {
        Assert.Equal(Run(), Run());
    }

    [Fact]
    public void A_stop_while_heating_removes_power_and_leaves_the_blower_running()
    {
        using var rig = new GuardRig(conducted: true);
        Heat(rig);
        rig.Guard.Tell("stop");
        Assert.True(rig.Guard.WaitForExit(GuardRig.PatienceMs));
        Assert.Equal(ExitCode.Good, rig.Guard.ExitCode);
        rig.Plant.Ask("advance 3000");
        rig.RestartGuard();
        JsonElement found = rig.Scan();
        Assert.Equal("Tripped", State(found));
        Assert.Equal(0, found.GetProperty("relay").GetDouble());
        Assert.Equal(0, found.GetProperty("power_kw").GetDouble());
        Assert.True(found.GetProperty("flow_kg_h").GetDouble() > 45, "after-cooling flow of plant profile N-1");
    }

    internal static string State(JsonElement unit) => unit.GetProperty("state").GetString()!;

    internal static void Heat(GuardRig rig)
    {
        rig.ScanUntil(static u => u.GetProperty("power_proved_off").GetBoolean(), 100);
        rig.ConductedRequest("start");
        Assert.Equal("Tripped", State(rig.Scan()));
        rig.ConductedRequest("reset");
        Assert.Equal("Ready", State(rig.Scan()));
        rig.ConductedRequest("start");
        Assert.Equal("PreFlow", State(rig.Scan()));
        rig.ScanUntil(static u => State(u) == "Heating", 600);
        JsonElement warm = rig.ScanUntil(static u => u.GetProperty("power_kw").GetDouble() > 2, 200);
        Assert.True(warm.GetProperty("permit").GetBoolean());
    }

    private static List<string> Run()
    {
        using var rig = new GuardRig(conducted: true);
        Heat(rig);
        rig.Plant.Ask("fault link-drop N-1");
        for (int i = 0; i < 50; i++)
        {
            rig.Scan();
        }

        return rig.Answers;
    }
}
