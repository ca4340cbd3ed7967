using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Guarding;

/// <summary>Makes connections; names are resolved once, at start, because resolving has no deadline.</summary>
internal static class LinkBuilder
{
    /// <summary>The connection of a link, not yet open.</summary>
    /// <exception cref="SocketException">The host name has no address.</exception>
    /// <exception cref="ArgumentException">The transport is not available.</exception>
    public static IModbusLink Build(LinkPlan plan)
    {
        if (plan.Options is { } options && (options.Transport != LinkTransport.Tcp || options.ZeroTransactionIds))
        {
            throw new ArgumentException($"link {plan.Table.Name}: this build speaks Modbus TCP with transaction ids only");
        }

        return new TcpModbusLink(new IPEndPoint(Resolve(plan.Host), plan.Port));
    }

    /// <summary>True when the link stays on this machine; a serial line leads to real devices.</summary>
    /// <exception cref="SocketException">The host name has no address.</exception>
    public static bool IsLocal(LinkPlan plan) =>
        plan.Options?.Transport != LinkTransport.Serial && IPAddress.IsLoopback(Resolve(plan.Host));

    private static IPAddress Resolve(string host)
    {
        if (IPAddress.TryParse(host, out IPAddress? address))
        {
            return address;
        }

        IPAddress[] found = Dns.GetHostAddresses(host);
        // Field devices speak IPv4 far more often; where a name has both, take that.
        return Array.Find(found, static a => a.AddressFamily == AddressFamily.InterNetwork) ?? (found.Length > 0 ? found[0] : throw new SocketException((int)SocketError.HostNotFound));
    }
}
