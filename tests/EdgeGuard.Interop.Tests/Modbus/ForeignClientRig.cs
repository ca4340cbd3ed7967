using System.Globalization;
using System.Net;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>Our server, over TCP, RTU inside TCP, or a pair of serial ports.</summary>
internal sealed class ForeignClientRig : IDisposable
{
    private readonly PtyPair? _pair;
    private readonly SerialModbusServer? _serial;
    private readonly TcpModbusServer? _tcp;

    /// <summary>A server with one device at unit 1.</summary>
    public ForeignClientRig(IModbusDevice device, string transport)
        : this(new Dictionary<byte, IModbusDevice> { [1] = device }, transport)
    {
    }

    public ForeignClientRig(Dictionary<byte, IModbusDevice> devices, string transport)
    {
        IsSerial = transport == "serial";
        if (IsSerial)
        {
            _pair = new PtyPair();
            _serial = new SerialModbusServer(new SerialLineOptions { PortName = _pair.Ours }, devices);
            _serial.Start();
            Where = _pair.Theirs;
        }
        else
        {
            _tcp = new TcpModbusServer(
                new IPEndPoint(IPAddress.Loopback, 0), devices, new TcpModbusServerOptions { IsRtuOverTcp = transport == "rtu-tcp" });
            _tcp.Start();
            Where = _tcp.Port.ToString(CultureInfo.InvariantCulture);
        }
    }

    public bool IsSerial { get; }

    /// <summary>Port number or serial device for the client.</summary>
    public string Where { get; }

    public ServerCounters Counters => _serial?.Counters ?? _tcp!.Counters;

    /// <summary>A link of our own to the server, for the RTU transports.</summary>
    public RtuModbusLink RtuLink(RtuLinkOptions options) => IsSerial
        ? new SerialModbusLink(new SerialLineOptions { PortName = Where }, options)
        : new RtuOverTcpModbusLink(new IPEndPoint(IPAddress.Loopback, _tcp!.Port), options);

    public void Dispose()
    {
        _serial?.Dispose();
        _tcp?.Dispose();
        _pair?.Dispose();
    }
}
