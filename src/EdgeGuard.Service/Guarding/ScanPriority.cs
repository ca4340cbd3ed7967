using System.Runtime.InteropServices;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// What the scan thread asks of the system's scheduler, so that a scan begins in time while other processes want every
/// processor. The runtime's thread priorities do nothing on Linux, hence the calls to libc. With real time the thread waits for
/// nobody; it sleeps, spins on nothing and meets other threads only in the runtime's lock for the moment of waking one, where it
/// would block and not spin: it cannot lock out the machine.
/// Without leave for real time a short time slice does most of it: an ordinary thread that wakes is else let in only when the
/// running one has used up its own slice (1.4 ms on two processors, 6.18).
/// </summary>
internal static partial class ScanPriority
{
    private const int ThisThread = 0;
    private const int OneThread = 0; // PRIO_PROCESS of <sys/resource.h>, which on Linux is a thread
    private const int RealTimeLowest = 1;
    private const int FirstInFirstOut = 1; // SCHED_FIFO of <linux/sched.h>
    private const int ResetOnFork = 0x40000000; // SCHED_RESET_ON_FORK: a thread that this one starts is an ordinary one
    private const int SetTimerSlack = 29; // PR_SET_TIMERSLACK of <linux/prctl.h>
    private const ulong ShortestSliceNs = 100_000; // sched_attr.sched_runtime of an ordinary thread: 0.1 to 100 ms, since Linux 6.12

    /// <summary>Asks for the best that this thread may have; call it on the thread that scans.</summary>
    public static ScanPriorityKind Claim()
    {
        if (!OperatingSystem.IsLinux() || !Environment.Is64BitProcess)
        {
            return ScanPriorityKind.Ordinary;
        }

        int lowest = RealTimeLowest;
        return SetScheduler(ThisThread, FirstInFirstOut | ResetOnFork, in lowest) == 0 ? ScanPriorityKind.RealTime : ClaimShortSlice();
    }

    /// <summary>What needs nobody's leave. 64-bit Linux only.</summary>
    public static ScanPriorityKind ClaimShortSlice()
    {
        _ = Prctl(SetTimerSlack, 1, 0, 0, 0); // ns; else 50 µs are added to every sleep
        // The nice value stays as it was given: to lower it needs leave, and one that is better than 0 must not be lost.
        var attributes = new SchedulerAttributes { Size = (uint)Marshal.SizeOf<SchedulerAttributes>(), Niceness = GetNiceness(OneThread, ThisThread), RuntimeNs = ShortestSliceNs };
        nint call = RuntimeInformation.ProcessArchitecture == Architecture.Arm64 ? 274 : 314; // sched_setattr, which older C libraries lack
        return SystemCall(call, ThisThread, in attributes, 0) == 0 ? ScanPriorityKind.ShortSlice : ScanPriorityKind.Ordinary;
    }

    [LibraryImport("libc", EntryPoint = "sched_setscheduler")]
    private static partial int SetScheduler(int thread, int policy, in int priority);

    [LibraryImport("libc", EntryPoint = "prctl")]
    private static partial int Prctl(int option, nuint a2, nuint a3, nuint a4, nuint a5);

    [LibraryImport("libc", EntryPoint = "getpriority")]
    private static partial int GetNiceness(int which, int who);

    // The variadic arguments of syscall(2) are passed as fixed ones: on Linux x64 and arm64 both are passed alike.
    [LibraryImport("libc", EntryPoint = "syscall")]
    private static partial nint SystemCall(nint number, nint thread, in SchedulerAttributes attributes, nint flags);

    // struct sched_attr of <linux/sched/types.h>, its first version of 48 bytes.
    [StructLayout(LayoutKind.Sequential)]
    private struct SchedulerAttributes
    {
        public uint Size;
        public uint Policy;
        public ulong Flags;
        public int Niceness;
        public uint Priority;
        public ulong RuntimeNs;
        public ulong DeadlineNs;
        public ulong PeriodNs;
    }
}
