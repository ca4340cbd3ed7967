using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Faults;

namespace EdgeGuard.VirtualPlant.Process;

/// <summary>The Modbus TCP port of one cabinet on the loopback address, with the two ways in which its link can fail.</summary>
public sealed class UnitEndpoint : IDisposable
{
    private readonly TcpModbusServer _server;

    private bool _listening;

    /// <summary>Opens the port; throws <see cref="SocketException"/> when it is taken.</summary>
    public UnitEndpoint(Cabinet cabinet, int port)
    {
        ArgumentNullException.ThrowIfNull(cabinet);
        Cabinet = cabinet;
        var devices = new Dictionary<byte, IModbusDevice>
        {
            [ControllerDevice.UnitId] = new ControllerDevice(cabinet),
            [MeterDevice.UnitId] = new MeterDevice(cabinet),
        };
        _server = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, port), devices);
        _server.Start();
        _listening = true;
    }

    /// <summary>The cabinet behind the port.</summary>
    public Cabinet Cabinet { get; }

    /// <summary>The port that listens.</summary>
    public int Port => _server.Port;

    /// <summary>
    /// Brings the link into the state its faults ask for. Not called under the cabinet's lock: stopping waits for
    /// connections that may themselves wait for it.
    /// </summary>
    public void FollowFaults()
    {
        bool drop;
        lock (Cabinet.Gate)
        {
            drop = Cabinet.Faults.Has(FaultKind.LinkDrop);
            _server.Silent = Cabinet.Faults.Has(FaultKind.LinkSilent);
        }

        if (drop && _listening)
        {
            _server.Stop();
            _listening = false;
        }
        else if (!drop && !_listening)
        {
            _server.Start();
            _listening = true;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _server.Dispose();
}
