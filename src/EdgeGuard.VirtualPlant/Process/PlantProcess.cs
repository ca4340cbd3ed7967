using System.Globalization;
using System.Net.Sockets;
using System.Runtime.InteropServices;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.VirtualPlant.Cabinets;

namespace EdgeGuard.VirtualPlant.Process;

/// <summary>
/// The plant as a process: opens the ports, prints the ready line, takes commands from its input, and writes the ledger
/// when it ends: by `quit`, by the end of its input, or by a signal. It ends with its input so that a conductor that
/// dies leaves no plant behind.
/// </summary>
public sealed class PlantProcess : IDisposable
{
    private const int LiveLineMs = 5000;

    private readonly PlantOptions _options;

    private readonly Plant _plant;

    private readonly List<UnitEndpoint> _endpoints = [];

    private readonly TraceWriter? _trace;

    private readonly PlantCommands _commands;

    private readonly TextWriter _output;

    private readonly object _endGate = new();

    private bool _isEnded;

    /// <summary>
    /// Opens everything. Throws <see cref="SocketException"/> when a port is taken and
    /// <see cref="IOException"/> when a file cannot be opened, <see cref="LinkOpenException"/> when a serial port cannot.
    /// </summary>
    public PlantProcess(PlantOptions options, TextWriter output)
    {
        ArgumentNullException.ThrowIfNull(options);
        _options = options;
        _output = output;
        _plant = new Plant(options.Profiles, options.StartUtc, observer: Observe);
        _commands = new PlantCommands(_plant, options.Conducted, options.LedgerFile, FollowFaults);
        try
        {
            _trace = options.TraceFile is null ? null : new TraceWriter(options.TraceFile);
            WriteLedger();
            for (int index = 0; index < _plant.Cabinets.Count; index++)
            {
                _endpoints.Add(new UnitEndpoint(_plant.Cabinets[index], options.Port == 0 ? 0 : options.Port + index, options.IsRtuOverTcp, SerialPort(index)));
            }
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    /// <summary>The line that says where the units listen.</summary>
    public string ReadyLine => "ready " + string.Join(' ', _endpoints.Select(e => string.Create(CultureInfo.InvariantCulture, $"{e.Cabinet.Profile.Name}=127.0.0.1:{e.Port}")));

    /// <summary>Runs until `quit`, the end of the input, or SIGINT or SIGTERM.</summary>
    public void Run(TextReader input)
    {
        using PosixSignalRegistration interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, OnSignal);
        using PosixSignalRegistration terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, OnSignal);
        _output.WriteLine(ReadyLine);
        _output.Flush();
        // A blocked read of the input cannot be ended from outside, hence a background thread.
        var reader = new Thread(() => ReadCommands(input)) { IsBackground = true, Name = "plant commands" };
        reader.Start();
        using (RealTimeLoop? loop = _options.Conducted ? null : new RealTimeLoop(_plant))
        {
            WaitForEnd();
        }

        WriteLedger();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (UnitEndpoint endpoint in _endpoints)
        {
            endpoint.Dispose();
        }

        _trace?.Dispose();
    }

    private SerialLineOptions? SerialPort(int index) =>
        index < _options.SerialPorts.Count ? new SerialLineOptions { PortName = _options.SerialPorts[index], BaudRate = _options.BaudRate } : null;

    private void WaitForEnd()
    {
        lock (_endGate)
        {
            while (!_isEnded)
            {
                Monitor.Wait(_endGate);
            }
        }
    }

    private void End()
    {
        lock (_endGate)
        {
            _isEnded = true;
            Monitor.PulseAll(_endGate);
        }
    }

    private void OnSignal(PosixSignalContext context)
    {
        // Ctrl+C in a terminal reaches a whole group of processes; in lock-step the conductor ends this one by its input.
        context.Cancel = true;
        if (!_options.Conducted || context.Signal != PosixSignal.SIGINT)
        {
            End();
        }
    }

    private void ReadCommands(TextReader input)
    {
        while (!_commands.QuitAsked && input.ReadLine() is { } line)
        {
            string answer = _commands.Execute(line);
            lock (_output)
            {
                _output.WriteLine(answer);
                _output.Flush();
            }
        }

        End();
    }

    /// <summary>Brings the link of a cabinet in line with its faults; returns what went wrong, null when nothing did.</summary>
    private string? FollowFaults(Cabinet cabinet)
    {
        try
        {
            _endpoints.Find(e => ReferenceEquals(e.Cabinet, cabinet))!.FollowFaults();
            return null;
        }
        catch (LinkOpenException e)
        {
            return $"error: {e.Message}; try: the same line once more";
        }
        catch (SocketException e)
        {
            return $"error: the port of {cabinet.Profile.Name} cannot be opened again: {e.Message}; try: the same line once more";
        }
    }

    private void Observe(Plant plant)
    {
        _trace?.Write(plant);
        if (_options.LiveLine && plant.NowMs % LiveLineMs < 1000)
        {
            lock (_output)
            {
                _output.WriteLine(LiveLine(plant.Truth()));
            }
        }
    }

    private static string LiveLine(PlantTruth truth)
    {
        IEnumerable<string> units = truth.Units.Select(u => string.Create(
            CultureInfo.InvariantCulture,
            $"{u.Unit} element {u.ElementC:F0} °C, outlet {u.OutletIndicatedC:F0} °C, {u.PowerKw:F1} kW, {u.FlowKgPerHour:F0} kg/h, {u.Permit}"));
        return string.Create(CultureInfo.InvariantCulture, $"{truth.AtMs / 1000} s  {string.Join(" | ", units)}");
    }

    private void WriteLedger()
    {
        if (_options.LedgerFile is not null)
        {
            LedgerFile.Write(_options.LedgerFile, _plant.ReportLedger());
        }
    }
}
