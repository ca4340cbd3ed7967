namespace EdgeGuard.Modbus.Transports;

/// <summary>A serial port and its settings; eight data bits always. The defaults are those of the serial guide (V1.02, 2.5.1): 19200 bit/s, even parity, one stop bit.</summary>
public sealed record SerialLineOptions
{
    /// <summary>Bit rates that every system this runs on can set.</summary>
    public static IReadOnlyList<int> BaudRates { get; } = [1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200, 230400];

    /// <summary>Name of the port as the system has it: <c>/dev/ttyUSB0</c>, <c>/dev/serial/by-id/…</c>, <c>COM3</c>.</summary>
    public required string PortName { get; init; }

    /// <summary>Bit rate in bit/s, one of <see cref="BaudRates"/>.</summary>
    public int BaudRate { get; init; } = 19_200;

    /// <summary>Parity; the same on every device of the line.</summary>
    public SerialParity Parity { get; init; } = SerialParity.Even;

    /// <summary>Stop bits, 1 or 2; 0 takes what the guide asks for: 1 with parity, 2 without.</summary>
    public int StopBits { get; init; }

    /// <summary>Stop bits in force, 1 or 2.</summary>
    public int EffectiveStopBits => StopBits != 0 ? StopBits : Parity == SerialParity.None ? 2 : 1;

    internal void Validate()
    {
        ArgumentException.ThrowIfNullOrEmpty(PortName);
        if (!BaudRates.Contains(BaudRate))
        {
            throw new ArgumentOutOfRangeException(nameof(BaudRate), BaudRate, "Not a bit rate that every system can set.");
        }

        ArgumentOutOfRangeException.ThrowIfNegative(StopBits);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(StopBits, 2);
    }
}
