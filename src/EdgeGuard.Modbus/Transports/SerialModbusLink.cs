using EdgeGuard.Modbus.Framing;

namespace EdgeGuard.Modbus.Transports;

/// <summary>A Modbus RTU client on a serial port. The port stays open whatever the devices do; it is lost only when the port itself is, as when an adapter is unplugged.</summary>
public sealed class SerialModbusLink : RtuModbusLink
{
    private readonly int _baudRate;

    /// <summary>Makes a link; the port is not opened before Connect.</summary>
    /// <param name="port">The port and its settings.</param>
    /// <param name="options">How the line is treated; null for the defaults.</param>
    public SerialModbusLink(SerialLineOptions port, RtuLinkOptions? options = null)
        : this(port, SerialLines.Create(port), options ?? new RtuLinkOptions())
    {
    }

    /// <summary>Makes a link on a line of the caller's own.</summary>
    /// <param name="port">Settings of the port: the bit rate gives the silence between frames.</param>
    /// <param name="line">The line; the link disposes of it.</param>
    /// <param name="options">How the line is treated.</param>
    internal SerialModbusLink(SerialLineOptions port, ISerialLine line, RtuLinkOptions options)
        : base(line, options, SerialTiming.T35Us(port.BaudRate))
    {
        port.Validate();
        _baudRate = port.BaudRate;
    }

    private protected override bool ClosesWhenSilent => false;

    private protected override int FrameUs(int byteCount) => SerialTiming.CharactersUs(byteCount, _baudRate);
}
