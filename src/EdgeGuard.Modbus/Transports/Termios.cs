using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace EdgeGuard.Modbus.Transports;

/// <summary>struct termios of Linux with glibc or musl, the same on x64 and arm64 (bits/termios-struct.h): 60 bytes.</summary>
[StructLayout(LayoutKind.Sequential)]
internal struct Termios
{
    /// <summary>Input modes.</summary>
    public uint InputModes;

    /// <summary>Output modes.</summary>
    public uint OutputModes;

    /// <summary>Control modes: rate, size, parity, stop bits.</summary>
    public uint ControlModes;

    /// <summary>Local modes.</summary>
    public uint LocalModes;

    /// <summary>Line discipline.</summary>
    public byte LineDiscipline;

    /// <summary>Control characters.</summary>
    public ControlCharacterArray ControlCharacters;

    /// <summary>Input rate as a code.</summary>
    public uint InputSpeed;

    /// <summary>Output rate as a code.</summary>
    public uint OutputSpeed;

    /// <summary>NCCS of termios-struct.h: 32.</summary>
    [InlineArray(32)]
    public struct ControlCharacterArray
    {
        private byte _first;
    }
}
