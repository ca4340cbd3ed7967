using System.Runtime.InteropServices;

namespace EdgeGuard.Service.Guarding;

/// <summary>struct timespec of POSIX on 64-bit systems.</summary>
[StructLayout(LayoutKind.Sequential)]
internal struct Timespec
{
    public long Seconds;
    public long Nanoseconds;
}
