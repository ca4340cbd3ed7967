using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Security;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Guarding;

/// <summary>Makes connections; names are resolved once, at start, because resolving has no deadline.</summary>
public static class LinkBuilder
{
    /// <summary>The connection of a link, not yet open.</summary>
    /// <exception cref="SocketException">The host name has no address.</exception>
    public static IModbusLink Build(LinkPlan plan)
    {
        LinkOptions? options = plan.Options;
        return options is { Transport: LinkTransport.Serial } ? Serial(options) : Network(plan.Host, plan.Port, options);
    }

    /// <summary>The connection that options describe, not yet open.</summary>
    /// <exception cref="SocketException">The host name has no address.</exception>
    public static IModbusLink Build(LinkOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        return options.Transport == LinkTransport.Serial ? Serial(options) : Network(options.Host, options.Port, options);
    }

    private static SerialModbusLink Serial(LinkOptions options) => new(new SerialLineOptions
    {
        PortName = options.SerialPort,
        BaudRate = options.Baud,
        Parity = options.Parity switch
        {
            LineParity.None => SerialParity.None,
            LineParity.Odd => SerialParity.Odd,
            _ => SerialParity.Even,
        },
        StopBits = options.StopBits,
    },
    Line(options));

    private static RtuLinkOptions Line(LinkOptions options) => new() { HasLocalEcho = options.LocalEcho };

    private static IModbusLink Network(string host, int port, LinkOptions? options)
    {
        var endPoint = new IPEndPoint(Resolve(host), port);
        return options is { Transport: LinkTransport.RtuOverTcp }
            ? new RtuOverTcpModbusLink(endPoint, Line(options))
            : new TcpModbusLink(endPoint, new TcpModbusLinkOptions { AcceptsZeroTransactionId = options is { ZeroTransactionIds: true }, Security = Security(options) });
    }

    // The certificate of the device carries the name that the site file gives, not the address it leads to today.
    private static ModbusTlsOptions? Security(LinkOptions? options) =>
        options?.Security is { } security ? security with { ServerName = security.ServerName ?? options.Host } : null;

    /// <summary>True when the link stays on this machine; a serial line leads to real devices.</summary>
    /// <exception cref="SocketException">The host name has no address.</exception>
    public static bool IsLocal(LinkPlan plan) =>
        plan.Options?.Transport != LinkTransport.Serial && IPAddress.IsLoopback(Resolve(plan.Host));

    private static IPAddress[] Addresses(string host)
    {
        try
        {
            return Dns.GetHostAddresses(host);
        }
        catch (SocketException e)
        {
            throw new SocketException((int)e.SocketErrorCode, $"the host {Quoted.Of(host)} of a link has no address here ({e.Message}); look at its spelling and at the name service of this machine, or state its IP address");
        }
    }

    private static IPAddress Resolve(string host)
    {
        if (IPAddress.TryParse(host, out IPAddress? address))
        {
            return address;
        }

        IPAddress[] found = Addresses(host);
        // Field devices speak IPv4 far more often; where a name has both, take that.
        return Array.Find(found, static a => a.AddressFamily == AddressFamily.InterNetwork) ?? (found.Length > 0 ? found[0] : throw new SocketException((int)SocketError.HostNotFound));
    }
}
