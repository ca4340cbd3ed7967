using System.Runtime.InteropServices;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// For a publisher that the guard started: the system ends it together with the guard even while it is stopped or hangs
/// (prctl(2), PR_SET_PDEATHSIG; Linux only). Where that is not to be had, the end of standard input does it.
/// </summary>
public static partial class ParentProcess
{
    private const int SetParentDeathSignal = 1; // PR_SET_PDEATHSIG of <linux/prctl.h>
    private const int Kill = 9;

    /// <summary>Asks the system to end this process when the thread that started it has ended.</summary>
    public static void EndTogether()
    {
        if (OperatingSystem.IsLinux())
        {
            _ = Prctl(SetParentDeathSignal, Kill, 0, 0, 0);
        }
    }

    [LibraryImport("libc", EntryPoint = "prctl")]
    private static partial int Prctl(int option, nuint a2, nuint a3, nuint a4, nuint a5);
}
