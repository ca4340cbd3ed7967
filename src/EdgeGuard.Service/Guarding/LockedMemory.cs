using System.Globalization;
using System.Runtime.InteropServices;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Keeps the pages of the guard in main memory. Under memory pressure the system drops pages of programs first, for it can
/// read them from the disk again; a scan, and above all the code of a trip that has never run, would then wait for the disk.
/// Linux only; it takes leave (RLIMIT_MEMLOCK without a limit, or CAP_IPC_LOCK).
/// </summary>
internal static partial class LockedMemory
{
    // MCL_CURRENT | MCL_FUTURE | MCL_ONFAULT of <asm-generic/mman.h>: what is there stays, and all else from its first use on.
    // Without the last one the whole of every thread's stack would be taken, 8 MiB each.
    private const int AllOnceTouched = 1 | 2 | 4;

    private const int PopulateRead = 22; // MADV_POPULATE_READ of <asm-generic/mman-common.h>, since Linux 5.14

    /// <summary>Locks what the process has and will have, and reads in its program and libraries; call it when nothing scans yet.</summary>
    /// <returns>False where it is not allowed or not known; nothing is changed then.</returns>
    public static bool Claim()
    {
        if (!OperatingSystem.IsLinux() || LockAll(AllOnceTouched) != 0)
        {
            return false;
        }

        foreach (string mapping in File.ReadAllLines("/proc/self/maps"))
        {
            ReadIn(mapping);
        }

        return true;
    }

    /// <summary>
    /// Gives the pages free again, when nothing scans any more. A mapped file is written back with MS_INVALIDATE when it is
    /// closed, which fails with EBUSY where a page of it is locked (msync(2)).
    /// </summary>
    public static void Release()
    {
        if (OperatingSystem.IsLinux())
        {
            _ = UnlockAll();
        }
    }

    // proc(5): "START-END PERMISSIONS OFFSET DEVICE INODE PATH". Private mappings of files are programs and their data; the
    // older kernels that refuse the call still keep each page once it was used.
    private static void ReadIn(string mapping)
    {
        string[] fields = mapping.Split(' ', 6, StringSplitOptions.RemoveEmptyEntries);
        if (fields.Length < 6 || fields[1][0] != 'r' || fields[1][3] != 'p' || fields[5][0] != '/')
        {
            return;
        }

        string[] range = fields[0].Split('-');
        nuint start = nuint.Parse(range[0], NumberStyles.HexNumber, CultureInfo.InvariantCulture);
        nuint end = nuint.Parse(range[1], NumberStyles.HexNumber, CultureInfo.InvariantCulture);
        _ = Advise(start, end - start, PopulateRead);
    }

    [LibraryImport("libc", EntryPoint = "mlockall")]
    private static partial int LockAll(int flags);

    [LibraryImport("libc", EntryPoint = "munlockall")]
    private static partial int UnlockAll();

    [LibraryImport("libc", EntryPoint = "madvise")]
    private static partial int Advise(nuint start, nuint length, int advice);
}
