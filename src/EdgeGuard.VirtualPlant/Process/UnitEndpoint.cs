using System.Net;
using System.Net.Sockets;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Faults;

namespace EdgeGuard.VirtualPlant.Process;

/// <summary>
/// The doors of one cabinet: a TCP port on the loopback address, a serial port beside it where one is given, and the two
/// ways in which its link can fail.
/// </summary>
public sealed class UnitEndpoint : IDisposable
{
    private readonly TcpModbusServer _server;

    private readonly SerialModbusServer? _serial;

    private bool _listening;

    /// <summary>
    /// Opens the doors; throws <see cref="SocketException"/> when the TCP port is taken and
    /// <see cref="LinkOpenException"/> when the serial port cannot be opened.
    /// </summary>
    /// <param name="cabinet">The cabinet behind them.</param>
    /// <param name="port">TCP port; 0 takes a free one.</param>
    /// <param name="isRtuOverTcp">RTU frames inside the connection in place of Modbus TCP.</param>
    /// <param name="serialPort">Serial port, or null.</param>
    public UnitEndpoint(Cabinet cabinet, int port, bool isRtuOverTcp = false, SerialLineOptions? serialPort = null)
    {
        ArgumentNullException.ThrowIfNull(cabinet);
        Cabinet = cabinet;
        var devices = new Dictionary<byte, IModbusDevice>
        {
            [ControllerDevice.UnitId] = new ControllerDevice(cabinet),
            [MeterDevice.UnitId] = new MeterDevice(cabinet),
        };
        _server = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, port), devices, new TcpModbusServerOptions { IsRtuOverTcp = isRtuOverTcp });
        _serial = serialPort is null ? null : new SerialModbusServer(serialPort, devices);
        try
        {
            Open();
        }
        catch
        {
            Dispose();
            throw;
        }
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
        bool silent;
        lock (Cabinet.Gate)
        {
            drop = Cabinet.Faults.Has(FaultKind.LinkDrop);
            silent = Cabinet.Faults.Has(FaultKind.LinkSilent);
        }

        _server.Silent = silent;
        if (_serial is not null)
        {
            _serial.Silent = silent;
        }

        if (drop && _listening)
        {
            _server.Stop();
            _serial?.Stop();
            _listening = false;
        }
        else if (!drop && !_listening)
        {
            Open();
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _server.Dispose();
        _serial?.Dispose();
    }

    private void Open()
    {
        _server.Start();
        try
        {
            _serial?.Start();
        }
        catch (LinkOpenException)
        {
            _server.Stop();
            throw;
        }

        _listening = true;
    }
}
