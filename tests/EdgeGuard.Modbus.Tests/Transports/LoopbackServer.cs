using System.Net;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Transports;

/// <summary>A server on a free loopback port with one device at unit 1.</summary>
internal sealed class LoopbackServer : IDisposable
{
    public LoopbackServer(TcpModbusServerOptions? options = null, MemoryDevice? device = null)
    {
        Device = device ?? new MemoryDevice();
        Server = new TcpModbusServer(
            new IPEndPoint(IPAddress.Loopback, 0), new Dictionary<byte, IModbusDevice> { [1] = Device }, options);
        Server.Start();
    }

    public MemoryDevice Device { get; }

    public TcpModbusServer Server { get; }

    public IPEndPoint EndPoint => new(IPAddress.Loopback, Server.Port);

    public TcpModbusLink Connect()
    {
        TcpModbusLink link = new(EndPoint);
        link.Connect(Timed.PatienceMs);
        return link;
    }

    public void Dispose() => Server.Dispose();
}
