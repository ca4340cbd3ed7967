using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Service.Probing;

/// <summary>
/// Reads an explicit range of registers, slowly, and never writes. A device at work may be for one client only and slow:
/// so one request at a time, a pause after each, small requests. A request that is refused is taken apart register by
/// register, since a hole in it spoils the rest. A gateway's answer for a device that it does not reach says nothing of
/// registers: the device is silent.
/// </summary>
public sealed class RegisterProbe
{
    private const int MostSilent = 3;

    private readonly IModbusLink _link;
    private readonly ProbeOptions _options;
    private readonly TimeProvider _time;
    private readonly Action<TimeSpan> _pause;
    private readonly ProbeFindings _findings;
    private readonly Dictionary<int, ModbusExceptionCode> _notReached = [];
    private int _silentInARow;

    /// <summary>Prepares a probe.</summary>
    /// <param name="link">A link that is not open yet.</param>
    /// <param name="options">What is read.</param>
    /// <param name="time">Clock of the round trips.</param>
    /// <param name="pause">Waits between two requests.</param>
    public RegisterProbe(IModbusLink link, ProbeOptions options, TimeProvider time, Action<TimeSpan> pause)
    {
        ArgumentNullException.ThrowIfNull(options);
        _link = link;
        _options = options;
        _time = time;
        _pause = pause;
        _findings = new ProbeFindings(new RegisterSheet(options.Table, options.First, options.Count));
    }

    /// <summary>Reads the range. Ends early when the device has not answered three times in a row.</summary>
    /// <exception cref="System.Net.Sockets.SocketException">No connection.</exception>
    /// <exception cref="IOException">The serial port cannot be used.</exception>
    public ProbeFindings Run()
    {
        _link.Connect(_options.ConnectMs);
        for (int round = 0; round < _options.Rounds; round++)
        {
            for (int at = 0; at < _options.Count && _silentInARow < MostSilent; at += _options.Chunk)
            {
                ReadChunk(_options.First + at, Math.Min(_options.Chunk, _options.Count - at));
            }
        }

        RefuseWhatWasNeverReached();
        return _findings;
    }

    private void ReadChunk(int address, int count)
    {
        if (Enumerable.Range(address, count).Any(_findings.Refused.ContainsKey))
        {
            ReadSingly(address, count);
            return;
        }

        ModbusResult result = Read(address, count);
        if (IsGateways(result))
        {
            NotReached(address, count, result.Exception);
        }
        else if (result.Outcome == ModbusOutcome.DeviceException && count > 1)
        {
            ReadSingly(address, count);
        }
        else if (result.Outcome == ModbusOutcome.DeviceException)
        {
            _findings.Refuse(address, result.Exception);
        }
    }

    private void ReadSingly(int address, int count)
    {
        for (int i = 0; i < count && _silentInARow < MostSilent; i++)
        {
            if (_findings.Refused.ContainsKey(address + i))
            {
                continue;
            }

            ModbusResult result = Read(address + i, 1);
            if (IsGateways(result))
            {
                NotReached(address + i, 1, result.Exception);
            }
            else if (result.Outcome == ModbusOutcome.DeviceException)
            {
                _findings.Refuse(address + i, result.Exception);
            }
        }
    }

    private static bool IsGateways(ModbusResult result) =>
        result.Exception is ModbusExceptionCode.GatewayPathUnavailable or ModbusExceptionCode.GatewayTargetFailedToRespond;

    private void NotReached(int address, int count, ModbusExceptionCode code)
    {
        for (int i = 0; i < count; i++)
        {
            _notReached[address + i] = code;
        }
    }

    private void RefuseWhatWasNeverReached()
    {
        foreach ((int address, ModbusExceptionCode code) in _notReached)
        {
            if (!_findings.Sheet.TryGet(address, out _))
            {
                _findings.Refuse(address, code);
            }
        }
    }

    private ModbusResult Read(int address, int count)
    {
        if (_findings.Requests > 0)
        {
            _pause(TimeSpan.FromSeconds(1 / _options.RequestsPerSecond));
        }

        if (!_link.IsConnected)
        {
            _link.Connect(_options.ConnectMs);
        }

        Span<ushort> words = stackalloc ushort[count];
        long start = _time.GetTimestamp();
        ModbusResult result = _link.ReadRegisters(_options.UnitId, _options.Table, (ushort)address, words, _options.AnswerMs);
        _findings.Note(result, _time.GetElapsedTime(start).TotalMilliseconds);
        bool isOfDevice = result.Outcome is ModbusOutcome.Good or ModbusOutcome.DeviceException && !IsGateways(result);
        _silentInARow = isOfDevice ? 0 : _silentInARow + 1;
        for (int i = 0; i < count && result.IsGood; i++)
        {
            _findings.Sheet.Put(address + i, words[i]);
        }

        return result;
    }
}
