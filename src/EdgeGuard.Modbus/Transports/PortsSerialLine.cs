using System.IO.Ports;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// A serial port through System.IO.Ports, for systems without the calls that <see cref="LinuxSerialLine"/> makes. It
/// allocates some hundred bytes for each read and write, which is nothing at the pace of a serial line, but is why
/// Linux has a line of its own.
/// </summary>
internal sealed class PortsSerialLine : ISerialLine
{
    private readonly SerialLineOptions _options;
    private readonly byte[] _buffer = new byte[1024];
    private SerialPort? _port;

    public PortsSerialLine(SerialLineOptions options) => _options = options;

    public bool IsOpen => _port is not null;

    public void Open(int timeoutMs)
    {
        Close();
        SerialPort port = new(
            _options.PortName,
            _options.BaudRate,
            _options.Parity switch { SerialParity.Even => Parity.Even, SerialParity.Odd => Parity.Odd, _ => Parity.None },
            dataBits: 8,
            _options.EffectiveStopBits == 2 ? StopBits.Two : StopBits.One);
        try
        {
            port.Open();
            port.DiscardInBuffer();
            _port = port;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or InvalidOperationException)
        {
            port.Dispose();
            throw LinkOpenException.Serial(FaultOf(e), _options.PortName, e);
        }
    }

    public void Close()
    {
        SerialPort? port = _port;
        _port = null;
        try
        {
            port?.Dispose();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The adapter is gone; there is nothing left to close.
        }
    }

    public void Dispose() => Close();

    public int Read(Span<byte> buffer, int timeoutMs)
    {
        if (_port is not { } port)
        {
            return -1;
        }

        try
        {
            if (timeoutMs == 0 && port.BytesToRead == 0)
            {
                return 0;
            }

            port.ReadTimeout = Math.Max(1, timeoutMs);
            int count = port.Read(_buffer, 0, Math.Min(_buffer.Length, buffer.Length));
            _buffer.AsSpan(0, count).CopyTo(buffer);
            return count;
        }
        catch (TimeoutException)
        {
            return 0;
        }
        catch (Exception e) when (e is IOException or InvalidOperationException or UnauthorizedAccessException or OperationCanceledException)
        {
            return -1;
        }
    }

    public bool Write(ReadOnlySpan<byte> bytes, int timeoutMs)
    {
        if (_port is not { } port)
        {
            return false;
        }

        try
        {
            bytes.CopyTo(_buffer);
            port.WriteTimeout = Math.Max(1, timeoutMs);
            port.Write(_buffer, 0, bytes.Length);
            return true;
        }
        catch (Exception e) when (e is TimeoutException or IOException or InvalidOperationException or UnauthorizedAccessException or OperationCanceledException)
        {
            return false;
        }
    }

    // Windows tells a port in use from one without permission by the same exception; in use is far more common there.
    private static LinkOpenFault FaultOf(Exception e) => e switch
    {
        UnauthorizedAccessException => LinkOpenFault.PortInUse,
        FileNotFoundException => LinkOpenFault.PortMissing,
        ArgumentOutOfRangeException => LinkOpenFault.SettingsRefused,
        ArgumentException => LinkOpenFault.NotASerialPort,
        _ => LinkOpenFault.Other,
    };
}
