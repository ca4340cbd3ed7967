using System.Net;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// A Modbus RTU client through a TCP connection that carries the bytes of a serial line as they are (a serial device
/// server in raw mode). Not Modbus TCP: a gateway that translates speaks that. The connection is closed when nobody on
/// the line has said anything for <see cref="RtuLinkOptions.SilentRequestsMax"/> requests, because it may be half open.
/// </summary>
public sealed class RtuOverTcpModbusLink : RtuModbusLink
{
    /// <summary>Makes a link; nothing is opened before Connect.</summary>
    /// <param name="endPoint">Address and port of the serial device server.</param>
    /// <param name="options">How the line is treated; null for the defaults.</param>
    public RtuOverTcpModbusLink(IPEndPoint endPoint, RtuLinkOptions? options = null)
        : base(new SocketLine(endPoint), options, gapUs: 0)
    {
    }

    private protected override bool ClosesWhenSilent => true;

    private protected override int FrameUs(int byteCount) => 0;
}
