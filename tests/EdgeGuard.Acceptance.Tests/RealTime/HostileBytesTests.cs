using System.Diagnostics;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.Acceptance.Tests.RealTime;

/// <summary>
/// Two thousand random, mutated, oversized and half-open inputs at the guard's request socket, and as many at the
/// plant's Modbus port, while the unit heats: nothing crashes, memory stays bounded, and the interlock works as if
/// nothing had been. The inputs come from a fixed seed, so a failure repeats.
/// </summary>
public sealed class HostileBytesTests
{
    private const int Inputs = 2_000;
    private const long GrowthMaxBytes = 32L << 20;

    // Trip delay 500 ms, scan 100 ms; the limit is the watchdog time, which no load of the test machine may exceed.
    private const long ReactionMaxMs = 2_000 + 100;

    [Trait("requirement", "MODB-3")]
    [Fact]
    public void Any_bytes_at_any_port_crash_nothing_and_lose_no_trip()
    {
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().With("\"host\": \"127.0.0.1\",", "\"host\": \"127.0.0.1\", \"answerMs\": 900,")
            .With("\"setpointC\": 650", "\"setpointC\": 650, \"comm\": { \"limitMs\": 1900 }, \"sens\": { \"staleMs\": 1000 }")
            .Write(folder.File("site"));
        using var guard = GuardChild.Start(folder, site);
        guard.StartUnit();
        plant.Await("power flows", static t => t.PowerKw > 1.6);

        // The first tenth warms both processes up: code, buffers and threads that stay are no leak.
        new HostileClient(seed: 1).AtRequestSocket(guard.Data, Inputs / 10);
        new HostileClient(seed: 2).AtModbusPort(plant.Ports[0], Inputs / 10);
        long guardBytes = WorkingSet(guard.Id);
        long plantBytes = WorkingSet(plant.Id);
        int taken = new HostileClient(seed: 3).AtRequestSocket(guard.Data, Inputs);
        taken += new HostileClient(seed: 4).AtModbusPort(plant.Ports[0], Inputs);

        Assert.Equal(2 * Inputs, taken);
        Assert.False(guard.HasExited || plant.HasExited, "a process ended");
        Assert.InRange(WorkingSet(guard.Id) - guardBytes, long.MinValue, GrowthMaxBytes);
        Assert.InRange(WorkingSet(plant.Id) - plantBytes, long.MinValue, GrowthMaxBytes);
        Assert.Equal("Heating", GuardChild.StateOf(guard.Await("a status", static _ => true)));
        CheckTrip(plant, guard);
    }

    private static void CheckTrip(PlantChild plant, GuardChild guard)
    {
        plant.Command("fault blower-stop N-1");
        plant.Await("permit gone", static t => t.Permit == PermitState.Withdrawn && t.PowerKw == 0);
        FlowReaction reaction = plant.Ledger().FlowReactions[^1];
        Assert.InRange(reaction.ReactionMs, 1, ReactionMaxMs);
        Assert.Equal("FLOW", guard.Await("tripped", static s => GuardChild.StateOf(s) == "Tripped").Units[0].FirstOut);
    }

    private static long WorkingSet(int processId)
    {
        using var process = Process.GetProcessById(processId);
        return process.WorkingSet64;
    }
}
