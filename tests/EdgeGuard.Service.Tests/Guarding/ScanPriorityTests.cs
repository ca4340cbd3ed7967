using System.ComponentModel;
using System.Diagnostics;
using System.Runtime.InteropServices;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>
/// What the scan thread is by the system's own word: policy and real-time priority are fields 41 and 40 of
/// /proc/TID/stat (proc(5)), the slice a line of /proc/TID/sched.
/// </summary>
public sealed class ScanPriorityTests
{
    private const string FirstInFirstOut = "1"; // SCHED_FIFO of <linux/sched.h>
    private const string OrdinaryPolicy = "0"; // SCHED_OTHER

    [Trait("requirement", "SCAN-1")]
    [Fact]
    public void A_scan_thread_gets_real_time_where_it_is_allowed_and_passes_it_on_to_no_thread()
    {
        SkipElsewhere();
        (string own, string child, ScanPriorityKind kind) = OnThread(static () =>
        {
            ScanPriorityKind claimed = ScanPriority.Claim();
            return (PolicyAndPriority(), OnThread(PolicyAndPriority), claimed);
        });
        Assert.Equal(kind == ScanPriorityKind.RealTime ? $"{FirstInFirstOut} 1" : $"{OrdinaryPolicy} 0", own);
        Assert.Equal($"{OrdinaryPolicy} 0", child);
        Assert.True(kind == ScanPriorityKind.RealTime || !IsAllowed(), $"{kind} although real time is allowed");
    }

    [Trait("requirement", "SCAN-1")]
    [Fact]
    public void Without_leave_it_gets_the_shortest_slice_and_no_slack()
    {
        SkipElsewhere();
        Assert.SkipUnless(TellsAttributes(), "this system lets no thread ask for a slice");
        (ScanPriorityKind kind, string policy, string? slice) = OnThread(static () => (ScanPriority.ClaimShortSlice(), PolicyAndPriority(), SliceNs()));
        Assert.Equal((ScanPriorityKind.ShortSlice, $"{OrdinaryPolicy} 0"), (kind, policy));
        Assert.SkipWhen(slice is null || Environment.OSVersion.Version < new Version(6, 12), "this kernel has no slices of a thread's own");
        Assert.Equal("100000", slice);
    }

    [Trait("requirement", "SCAN-1")]
    [Fact]
    public void The_nice_value_it_was_given_stays()
    {
        SkipElsewhere();
        Assert.SkipUnless(TellsAttributes(), "this system lets no thread ask for a slice");
        (ScanPriorityKind kind, string given, string kept) = OnThread(static () =>
        {
            Assert.Equal(0, setpriority(0, 0, Math.Min(19, getpriority(0, 0) + 3))); // upwards everybody may
            string before = Field(19);
            return (ScanPriority.ClaimShortSlice(), before, Field(19));
        });
        Assert.Equal((ScanPriorityKind.ShortSlice, given), (kind, kept));
    }

    // sched_getattr(2) by its number (asm/unistd.h): refused, or not there, where the same is so for sched_setattr.
    private static bool TellsAttributes() =>
        syscall(RuntimeInformation.ProcessArchitecture == Architecture.Arm64 ? 275 : 315, 0, new byte[64], 64, 0) == 0;

    [DllImport("libc")]
    private static extern nint syscall(nint number, nint thread, byte[] attributes, nint size, nint flags);

    [DllImport("libc")]
    private static extern int getpriority(int which, int who);

    [DllImport("libc")]
    private static extern int setpriority(int which, int who, int niceness);

    private static void SkipElsewhere() =>
        Assert.SkipUnless(OperatingSystem.IsLinux() && RuntimeInformation.ProcessArchitecture is Architecture.X64 or Architecture.Arm64, "asked of 64-bit Linux only");

    // An outside word: util-linux's chrt(1) asks the same of the system. A machine without it leaves the question open.
    private static bool IsAllowed()
    {
        try
        {
            using var chrt = Process.Start(new ProcessStartInfo("chrt", ["--fifo", "1", "true"]) { RedirectStandardError = true, UseShellExecute = false })!;
            chrt.WaitForExit();
            return chrt.ExitCode == 0;
        }
        catch (Win32Exception)
        {
            return false;
        }
    }

    private static string PolicyAndPriority() => $"{Field(41)} {Field(40)}";

    // The name in brackets may hold blanks: fields are counted from the bracket, which ends field 2. Nice is field 19.
    private static string Field(int number) => File.ReadAllText("/proc/thread-self/stat").Split(") ")[^1].Split(' ')[number - 3];

    private static string? SliceNs() => File.Exists("/proc/thread-self/sched") ? ProcLine("sched", "se.slice")?.Split(':')[^1].Trim() : null;

    private static string? ProcLine(string file, string start) =>
        File.ReadLines("/proc/thread-self/" + file).FirstOrDefault(l => l.StartsWith(start, StringComparison.Ordinal))?[start.Length..].Trim();

    private static T OnThread<T>(Func<T> look)
    {
        T result = default!;
        var thread = new Thread(() => result = look());
        thread.Start();
        thread.Join();
        return result;
    }
}
