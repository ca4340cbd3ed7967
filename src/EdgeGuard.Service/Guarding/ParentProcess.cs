using System.Runtime.InteropServices;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// For a publisher that the guard started: the system ends it together with the guard even while it is stopped or hangs
/// (prctl(2), PR_SET_PDEATHSIG; Linux only). Where that is not to be had, the end of standard input does it. It also yields
/// the processor to the guard: a flood of clients must not make a scan late.
/// </summary>
public static partial class ParentProcess
{
    private const int SetParentDeathSignal = 1; // PR_SET_PDEATHSIG of <linux/prctl.h>
    private const int Kill = 9;
    private const int ThisThread = 0;
    private const int OfProcess = 0; // PRIO_PROCESS of <sys/resource.h>; on Linux it is the thread's, and new threads take it over

    // A nice value of 10 is about a ninth of the weight of an ordinary process (sched(7)).
    private const int Niceness = 10;

    /// <summary>Asks the system to end this process when the thread that started it has ended.</summary>
    public static void EndTogether()
    {
        if (OperatingSystem.IsLinux())
        {
            _ = Prctl(SetParentDeathSignal, Kill, 0, 0, 0);
        }
    }

    /// <summary>Lowers the priority of this thread and of all that it starts from now on; call it first of all (setpriority(2), Linux only).</summary>
    public static void YieldToGuard()
    {
        if (OperatingSystem.IsLinux())
        {
            _ = SetPriority(OfProcess, ThisThread, Niceness);
        }
    }

    [LibraryImport("libc", EntryPoint = "setpriority")]
    private static partial int SetPriority(int which, uint who, int niceness);

    [LibraryImport("libc", EntryPoint = "prctl")]
    private static partial int Prctl(int option, nuint a2, nuint a3, nuint a4, nuint a5);
}
