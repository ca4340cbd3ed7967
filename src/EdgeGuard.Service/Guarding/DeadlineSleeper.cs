using System.Runtime.InteropServices;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Sleeps until an absolute time of the monotonic clock. On 64-bit Linux by clock_nanosleep with TIMER_ABSTIME (POSIX.1-2008), so
/// that a pre-emption between reading the clock and going to sleep costs nothing; elsewhere by sleeping short of the
/// deadline and spinning the rest.
/// </summary>
internal static partial class DeadlineSleeper
{
    private const int ClockMonotonic = 1; // <linux/time.h>
    private const int TimerAbsolute = 1;
    private const int Interrupted = 4; // EINTR
    private const long SpinUs = 2_000;

    private static readonly bool Absolute = OperatingSystem.IsLinux() && Environment.Is64BitProcess;

    /// <summary>Sleeps until <paramref name="deadlineUs"/> on <paramref name="clock"/>, µs; returns at once when it has passed.</summary>
    public static void SleepUntil(MonotonicClock clock, long deadlineUs)
    {
        if (Absolute)
        {
            SleepAbsolute(deadlineUs);
        }

        while (deadlineUs - clock.NowUs is var left and > 0)
        {
            if (left > SpinUs)
            {
                Thread.Sleep((int)Math.Min(1000, (left - SpinUs + 999) / 1000));
            }
            else
            {
                Thread.SpinWait(20);
            }
        }
    }

    private static void SleepAbsolute(long deadlineUs)
    {
        var at = new Timespec { Seconds = deadlineUs / 1_000_000, Nanoseconds = deadlineUs % 1_000_000 * 1000 };
        while (ClockNanosleep(ClockMonotonic, TimerAbsolute, at, 0) == Interrupted)
        {
        }
    }

    [LibraryImport("libc", EntryPoint = "clock_nanosleep")]
    private static partial int ClockNanosleep(int clock, int flags, in Timespec request, nint remain);
}
