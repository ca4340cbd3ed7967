using System.Globalization;
using EdgeGuard.Acceptance.Tests.Rigs;

namespace EdgeGuard.Acceptance.Tests.RealTime;

/// <summary>
/// What a guard makes of the leave it has, by the system's own word (proc(5)): real time for the scan thread and locked memory
/// where both are allowed; without leave it guards all the same, and the log says what it did not get.
/// </summary>
public sealed class LeaveTests
{
    private const string FirstInFirstOut = "1"; // SCHED_FIFO of <linux/sched.h>
    private const int LogPatienceMs = 60_000;
    private const int MayLock = 14; // CAP_IPC_LOCK of <linux/capability.h>

    [Trait("requirement", "SCAN-2")]
    [Fact]
    public void A_guard_locks_its_memory_exactly_where_it_may_and_says_so()
    {
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        using var guard = GuardChild.Start(folder, TestSite.N1(plant.Ports[0]).Quick().Write(folder.File("site")));
        bool locked = LockedKb(guard) > 0;
        Assert.Equal(MayLockMemory(guard), locked);
        AwaitLog(folder, locked ? "the memory of the guard is locked: it" : "the memory of the guard is not locked here");
        Assert.Equal(ExitCode.Good, guard.Terminate()); // a mapping that is still locked could not be closed
    }

    [Trait("requirement", "SCAN-1")]
    [Trait("requirement", "SCAN-2")]
    [Fact]
    public void Without_leave_it_guards_all_the_same_and_says_what_it_did_not_get()
    {
        Assert.SkipUnless(Environment.IsPrivilegedProcess, "leave that is not there cannot be taken away");
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().Write(folder.File("site"));
        using var guard = GuardChild.Start(folder, site, "setpriv", "--inh-caps=-sys_nice,-ipc_lock", "--bounding-set=-sys_nice,-ipc_lock", "prlimit", "--memlock=65536:65536", "--rtprio=0:0");
        Assert.Equal(0, LockedKb(guard));
        Assert.NotEqual(FirstInFirstOut, ScanThreadPolicy(guard));
        AwaitLog(folder, "the memory of the guard is not locked here");
        AwaitLog(folder, "may not run in real time here");
        guard.StartUnit();
        plant.Await("power flows", static t => t.PowerKw > 1.0);
    }

    private static bool MayLockMemory(GuardChild guard)
    {
        ulong effective = ulong.Parse(Line(guard, "status", "CapEff:"), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
        return (effective >> MayLock & 1) != 0 || Line(guard, "limits", "Max locked memory").StartsWith("unlimited", StringComparison.Ordinal);
    }

    // The thread's name stands in brackets; the policy is field 41.
    private static string ScanThreadPolicy(GuardChild guard) =>
        Directory.EnumerateDirectories($"/proc/{guard.Id}/task").Select(static t => File.ReadAllText(t + "/stat")).Single(static s => s.Contains("(scan)", StringComparison.Ordinal)).Split(") ")[^1].Split(' ')[41 - 3];

    private static long LockedKb(GuardChild guard) => Kb(guard, "VmLck:");

    private static long Kb(GuardChild guard, string name) => long.Parse(Line(guard, "status", name).Split(' ')[0], CultureInfo.InvariantCulture);

    private static string Line(GuardChild guard, string file, string start) =>
        File.ReadLines($"/proc/{guard.Id}/{file}").Single(l => l.StartsWith(start, StringComparison.Ordinal))[start.Length..].Trim();

    // The log has its own thread: a line may stand in the file after the first scan.
    private static void AwaitLog(TestFolder folder, string part) =>
        Assert.True(SpinWait.SpinUntil(() => folder.ReadShared("guard.log").Contains(part, StringComparison.Ordinal), LogPatienceMs), $"\"{part}\" is not in the log: {folder.ReadShared("guard.log")}");
}
