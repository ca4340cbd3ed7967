using System.Runtime.InteropServices;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// A serial port by the calls of the C library: raw, eight bits, never blocking, waiting only in poll. Reading and
/// writing allocate nothing and use no thread. The port is taken twice over: by TIOCEXCL against ordinary accounts and
/// by flock against other programs that ask, root included; two programs on one line garble each other's frames. On a
/// pseudo-terminal TIOCEXCL outlives the last close, since its other end keeps it alive: an ordinary account could never
/// open it again, after a loss of the link or a kill. There flock stands alone.
/// </summary>
internal sealed partial class LinuxSerialLine : ISerialLine
{
    private const int OpenFlags = 0x2 | 0x100 | 0x800 | 0x80000; // O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC (asm-generic/fcntl.h)
    private const int LockExclusiveNow = 2 | 4; // LOCK_EX | LOCK_NB (asm-generic/fcntl.h)
    private const nuint TakeExclusive = 0x540C; // TIOCEXCL (asm-generic/ioctls.h)
    private const int FlushBoth = 2; // TCIOFLUSH (asm-generic/termbits.h)
    private const int SetNow = 0; // TCSANOW

    // Control modes (asm-generic/termbits.h).
    private const uint EightBits = 0x30;
    private const uint TwoStopBits = 0x40;
    private const uint EnableReceiver = 0x80;
    private const uint ParityOn = 0x100;
    private const uint ParityOdd = 0x200;
    private const uint IgnoreModemLines = 0x800;
    private const uint FormatMask = 0x100F | EightBits | TwoStopBits | ParityOn | ParityOdd; // CBAUD and the rest
    private const uint CheckParity = 0x10; // INPCK: characters of the wrong parity …
    private const uint DropBadCharacter = 0x4; // IGNPAR: … are dropped, and the CRC finds the gap

    // With a minimum of one byte an idle line reads as EAGAIN; with none it would read as 0, like a line that is gone.
    private const int MinimumIndex = 6; // VMIN

    private const short WaitInput = 1; // POLLIN
    private const short WaitOutput = 4; // POLLOUT
    private const int Interrupted = 4; // EINTR
    private const int TryAgain = 11; // EAGAIN

    private readonly SerialLineOptions _options;
    private int _descriptor = -1;

    public LinuxSerialLine(SerialLineOptions options) => _options = options;

    public bool IsOpen => _descriptor >= 0;

    public void Open(int timeoutMs)
    {
        Close();
        int descriptor = OpenFile(_options.PortName, OpenFlags);
        if (descriptor < 0)
        {
            throw Failure();
        }

        try
        {
            SetUp(descriptor);
        }
        catch
        {
            _ = CloseFile(descriptor);
            throw;
        }

        _descriptor = descriptor;
    }

    public void Close()
    {
        int descriptor = _descriptor;
        _descriptor = -1;
        if (descriptor >= 0)
        {
            _ = CloseFile(descriptor);
        }
    }

    public void Dispose() => Close();

    public int Read(Span<byte> buffer, int timeoutMs)
    {
        Deadline deadline = Deadline.After(timeoutMs);
        while (_descriptor >= 0)
        {
            nint count = ReadFile(_descriptor, ref MemoryMarshal.GetReference(buffer), (nuint)buffer.Length);
            if (count > 0)
            {
                return (int)count;
            }

            // 0 is what a line without its other end reads as; EAGAIN is "nothing yet".
            if (count == 0 || Marshal.GetLastPInvokeError() is not (TryAgain or Interrupted))
            {
                return -1;
            }

            int remainingMs = deadline.RemainingMs();
            if (remainingMs == 0)
            {
                return 0;
            }

            Wait(WaitInput, remainingMs);
        }

        return -1;
    }

    public bool Write(ReadOnlySpan<byte> bytes, int timeoutMs)
    {
        Deadline deadline = Deadline.After(timeoutMs);
        while (!bytes.IsEmpty)
        {
            nint count = _descriptor < 0 ? -1 : WriteFile(_descriptor, in MemoryMarshal.GetReference(bytes), (nuint)bytes.Length);
            if (count >= 0)
            {
                bytes = bytes[(int)count..];
                continue;
            }

            int remainingMs = deadline.RemainingMs();
            if (_descriptor < 0 || Marshal.GetLastPInvokeError() is not (TryAgain or Interrupted) || remainingMs == 0)
            {
                return false;
            }

            Wait(WaitOutput, remainingMs);
        }

        return true;
    }

    private void SetUp(int descriptor)
    {
        Termios settings = default;
        if (GetAttributes(descriptor, ref settings) != 0)
        {
            throw LinkOpenException.Serial(LinkOpenFault.NotASerialPort, _options.PortName);
        }

        if (Lock(descriptor, LockExclusiveNow) != 0)
        {
            throw LinkOpenException.Serial(LinkOpenFault.PortInUse, _options.PortName);
        }

        if (!IsPseudoTerminal(descriptor))
        {
            _ = Control(descriptor, TakeExclusive, 0);
        }

        Apply(descriptor, SpeedCode(_options.BaudRate));
        _ = Flush(descriptor, FlushBoth);
    }

    /// <summary>Sets the line and reads back what it took: tcsetattr is content when anything of it could be done.</summary>
    private void Apply(int descriptor, uint speed)
    {
        uint format = speed | EightBits | (_options.EffectiveStopBits == 2 ? TwoStopBits : 0)
            | _options.Parity switch { SerialParity.Even => ParityOn, SerialParity.Odd => ParityOn | ParityOdd, _ => 0 };
        Termios settings = new()
        {
            InputModes = _options.Parity == SerialParity.None ? 0 : CheckParity | DropBadCharacter,
            ControlModes = format | EnableReceiver | IgnoreModemLines,
            InputSpeed = speed,
            OutputSpeed = speed,
        };
        settings.ControlCharacters[MinimumIndex] = 1;
        int result = SetAttributes(descriptor, SetNow, in settings);
        Termios taken = default;
        bool isTaken = GetAttributes(descriptor, ref taken) == 0 && (taken.ControlModes & FormatMask) == format;

        // A pseudo-terminal carries bytes, not bits: it has no parity, and needs none.
        if ((result != 0 || !isTaken) && !IsPseudoTerminal(descriptor))
        {
            throw LinkOpenException.Serial(LinkOpenFault.SettingsRefused, _options.PortName);
        }
    }

    private static bool IsPseudoTerminal(int descriptor) =>
        File.ResolveLinkTarget($"/proc/self/fd/{descriptor}", returnFinalTarget: false)?.FullName.StartsWith("/dev/pts/", StringComparison.Ordinal) ?? false;

    private void Wait(short events, int timeoutMs)
    {
        PollEntry entry = new() { Descriptor = _descriptor, Events = events };
        _ = Poll(ref entry, 1, timeoutMs);
    }

    private LinkOpenException Failure()
    {
        int error = Marshal.GetLastPInvokeError();
        LinkOpenFault fault = FaultOf(error);
        return LinkOpenException.Serial(fault, _options.PortName, new IOException($"{Marshal.GetPInvokeErrorMessage(error)} (errno {error})"));
    }

    /// <summary>The fault an errno of open stands for (asm-generic/errno-base.h).</summary>
    internal static LinkOpenFault FaultOf(int errno) => errno switch
    {
        1 or 13 => LinkOpenFault.NoPermission, // EPERM, EACCES
        2 or 6 or 19 => LinkOpenFault.PortMissing, // ENOENT, ENXIO, ENODEV
        16 => LinkOpenFault.PortInUse, // EBUSY
        20 or 21 or 25 => LinkOpenFault.NotASerialPort, // ENOTDIR, EISDIR, ENOTTY
        _ => LinkOpenFault.Other,
    };

    private static uint SpeedCode(int baudRate) => baudRate switch
    {
        1200 => 0x9,
        2400 => 0xB,
        4800 => 0xC,
        9600 => 0xD,
        19_200 => 0xE,
        38_400 => 0xF,
        57_600 => 0x1001,
        115_200 => 0x1002,
        230_400 => 0x1003,
        _ => throw new ArgumentOutOfRangeException(nameof(baudRate), baudRate, "Not a bit rate of SerialLineOptions."),
    };

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    private static partial int OpenFile(string path, int flags);

    [LibraryImport("libc", EntryPoint = "close")]
    private static partial int CloseFile(int descriptor);

    [LibraryImport("libc", EntryPoint = "read", SetLastError = true)]
    private static partial nint ReadFile(int descriptor, ref byte buffer, nuint count);

    [LibraryImport("libc", EntryPoint = "write", SetLastError = true)]
    private static partial nint WriteFile(int descriptor, in byte buffer, nuint count);

    [LibraryImport("libc", EntryPoint = "poll", SetLastError = true)]
    private static partial int Poll(ref PollEntry entry, nuint count, int timeoutMs);

    [LibraryImport("libc", EntryPoint = "flock", SetLastError = true)]
    private static partial int Lock(int descriptor, int operation);

    [LibraryImport("libc", EntryPoint = "ioctl", SetLastError = true)]
    private static partial int Control(int descriptor, nuint request, nint argument);

    [LibraryImport("libc", EntryPoint = "tcgetattr", SetLastError = true)]
    private static partial int GetAttributes(int descriptor, ref Termios settings);

    [LibraryImport("libc", EntryPoint = "tcsetattr", SetLastError = true)]
    private static partial int SetAttributes(int descriptor, int when, in Termios settings);

    [LibraryImport("libc", EntryPoint = "tcflush", SetLastError = true)]
    private static partial int Flush(int descriptor, int queue);

    /// <summary>struct pollfd (poll.h).</summary>
    [StructLayout(LayoutKind.Sequential)]
    private struct PollEntry
    {
        public int Descriptor;
        public short Events;
        public short ReturnedEvents;
    }
}
