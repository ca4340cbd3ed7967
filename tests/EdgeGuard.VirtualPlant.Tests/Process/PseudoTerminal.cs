using System.Runtime.InteropServices;
using System.Text;
using Microsoft.Win32.SafeHandles;

namespace EdgeGuard.VirtualPlant.Tests.Process;

/// <summary>A pseudo terminal of the system: a serial port under a name, and its other end as a stream of raw bytes.</summary>
internal sealed class PseudoTerminal : IDisposable
{
    private const int ReadWriteNoControl = 2 | 0x100;
    private const nuint GetExclusive = 0x80045440; // TIOCGEXCL (asm-generic/ioctls.h)

    private readonly FileStream _other;

    public PseudoTerminal()
    {
        int handle = posix_openpt(ReadWriteNoControl);
        Assert.True(handle >= 0, "no pseudo terminal to be had");
        byte[] name = new byte[128];
        Assert.Equal(0, grantpt(handle) | unlockpt(handle) | ptsname_r(handle, name, name.Length));
        Name = Encoding.ASCII.GetString(name, 0, Array.IndexOf(name, (byte)0));
        _other = new FileStream(new SafeFileHandle(handle, ownsHandle: true), FileAccess.ReadWrite, bufferSize: 0);
    }

    /// <summary>Name of the port.</summary>
    public string Name { get; }

    /// <summary>Whether ordinary accounts are kept from opening the port (TIOCEXCL).</summary>
    public bool IsExclusive()
    {
        int handle = open(Name, ReadWriteNoControl);
        if (handle < 0)
        {
            return true; // kept from it already
        }

        int exclusive = 0;
        int result = ioctl(handle, GetExclusive, ref exclusive);
        _ = close(handle);
        Assert.Equal(0, result);
        return exclusive != 0;
    }

    /// <summary>Sends bytes down the line.</summary>
    public void Send(byte[] bytes) => _other.Write(bytes);

    /// <summary>Sends bytes down the line and waits for as many as are expected.</summary>
    public byte[] Exchange(byte[] bytes, int expected)
    {
        Send(bytes);
        byte[] answer = new byte[expected];
        _other.ReadExactly(answer);
        return answer;
    }

    public void Dispose() => _other.Dispose();

    [DllImport("libc")]
    private static extern int posix_openpt(int flags);

    [DllImport("libc", CharSet = CharSet.Ansi)]
    private static extern int open([MarshalAs(UnmanagedType.LPUTF8Str)] string path, int flags);

    [DllImport("libc")]
    private static extern int close(int handle);

    [DllImport("libc")]
    private static extern int ioctl(int handle, nuint request, ref int value);

    [DllImport("libc")]
    private static extern int grantpt(int handle);

    [DllImport("libc")]
    private static extern int unlockpt(int handle);

    [DllImport("libc")]
    private static extern int ptsname_r(int handle, byte[] name, nint length);
}
