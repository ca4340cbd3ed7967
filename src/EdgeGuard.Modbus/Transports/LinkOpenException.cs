using System.Net;
using System.Net.Sockets;

namespace EdgeGuard.Modbus.Transports;

/// <summary>A link that could not be opened; the message says what, where and what to do.</summary>
public sealed class LinkOpenException : IOException
{
    /// <summary>Makes the exception of one fault.</summary>
    /// <param name="fault">The kind of fault.</param>
    /// <param name="message">What, where, what to do.</param>
    /// <param name="inner">Cause as the system told it, or null.</param>
    public LinkOpenException(LinkOpenFault fault, string message, Exception? inner = null)
        : base(message, inner) => Fault = fault;

    /// <summary>The kind of fault.</summary>
    public LinkOpenFault Fault { get; }

    internal static LinkOpenException From(IPEndPoint endPoint, SocketException cause) => cause.SocketErrorCode switch
    {
        SocketError.ConnectionRefused => new LinkOpenException(
            LinkOpenFault.Refused,
            $"{endPoint} refused the connection: the host is there, but nothing listens on port {endPoint.Port}; check the port, whether Modbus TCP is enabled on the device, and whether its connection limit is reached",
            cause),
        SocketError.TimedOut => new LinkOpenException(
            LinkOpenFault.TimedOut,
            $"{endPoint} did not answer in time: check that the device is on, its address and cable, and any firewall between",
            cause),
        SocketError.HostUnreachable or SocketError.NetworkUnreachable or SocketError.HostDown or SocketError.NetworkDown => new LinkOpenException(
            LinkOpenFault.Unreachable,
            $"{endPoint} cannot be reached: no route to it; check the address, the network mask and the cable of this machine",
            cause),
        _ => new LinkOpenException(
            LinkOpenFault.Other, $"{endPoint} cannot be connected: {cause.Message} ({cause.SocketErrorCode})", cause),
    };

    internal static LinkOpenException Serial(LinkOpenFault fault, string port, Exception? cause = null) => new(
        fault,
        fault switch
        {
            LinkOpenFault.PortMissing => $"{port}: there is no such serial port; check the name and that the adapter is plugged in (a name under /dev/serial/by-id stays the same when adapters change places)",
            LinkOpenFault.PortInUse => $"{port}: the serial port is in use by another program; end that program, or give this link another port",
            LinkOpenFault.NoPermission => $"{port}: no permission to open the serial port; add the account of the service to the group that owns it (on Debian: dialout) and start the service again",
            LinkOpenFault.NotASerialPort => $"{port}: this is not a serial port; check the name",
            LinkOpenFault.SettingsRefused => $"{port}: the serial port does not take these settings; check bit rate, parity and stop bits against what the adapter can do",
            _ => $"{port}: the serial port cannot be opened: {cause?.Message}",
        },
        cause);
}
