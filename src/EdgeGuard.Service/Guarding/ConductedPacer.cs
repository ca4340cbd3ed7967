using System.Globalization;
using System.Text;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Scans when told, one line a command, so that a conductor can advance plant and guard in lock-step and every run
/// repeats exactly. Simulated time comes from the conductor and stands still in between. Within one scan everything
/// is finished before the answer is printed: polls, decision, journal on disk, writes confirmed or failed; so the
/// watermark of the next scan is always that of this one. Commands: `scan UTCMS`, `request JSON`, `stop`; the end of
/// the input is a stop.
/// </summary>
public sealed class ConductedPacer : IPacer
{
    private readonly SiteTable _site;
    private readonly ConductedClock _clock;
    private readonly FieldBus _field;
    private readonly RequestDesk _desk;
    private readonly Func<bool> _drainJournal;
    private readonly Action _askStop;
    private readonly TextReader _input;
    private readonly TextWriter _output;
    private readonly ConductedReport _report;
    private readonly string[] _unitNames;
    private string? _peeked;
    private long _scan;
    private long _utcMs;
    private bool _stopping;

    /// <summary>Prepares the pacer.</summary>
    /// <param name="site">The site.</param>
    /// <param name="clock">Moved by this pacer alone.</param>
    /// <param name="field">Links in conducted mode.</param>
    /// <param name="desk">Takes requests that come with the commands.</param>
    /// <param name="drainJournal">Waits until everything handed over is durable; false when it cannot be.</param>
    /// <param name="askStop">Asks the loop for an orderly stop.</param>
    /// <param name="console">Where commands come from and answers go.</param>
    public ConductedPacer(SiteTable site, ConductedClock clock, FieldBus field, RequestDesk desk, Func<bool> drainJournal, Action askStop, ConductedConsole console)
    {
        ArgumentNullException.ThrowIfNull(site);
        ArgumentNullException.ThrowIfNull(console);
        _site = site;
        _clock = clock;
        _field = field;
        _desk = desk;
        _drainJournal = drainJournal;
        _askStop = askStop;
        _input = console.Input;
        _output = console.Output;
        _peeked = console.FirstLine;
        _unitNames = [.. site.Units.Select(static u => u.Name)];
        _report = new ConductedReport(site);
    }

    /// <summary>Called with the simulated time of each scan, before anything of that scan happens.</summary>
    public Action<long>? UtcChanged { get; init; }

    /// <inheritdoc/>
    public bool WaitNext(ref ScanTick tick)
    {
        long? toldMs = _stopping ? null : NextScan();
        long utcMs = toldMs ?? _utcMs + _site.ScanMs;
        tick.NominalUs = _scan * _site.ScanMs * 1000L;
        tick.UtcUnixMs = utcMs;
        tick.Clock = _scan == 0 ? ClockQuality.Unknown : utcMs - _utcMs == _site.ScanMs ? ClockQuality.Even : ClockQuality.Stepped;
        _utcMs = utcMs;
        UtcChanged?.Invoke(utcMs);
        _scan++;
        _clock.MoveTo(tick.NominalUs);
        _field.PollNow();
        return true;
    }

    /// <inheritdoc/>
    public void Done(ScanOutput output)
    {
        bool durable = _drainJournal();
        _field.ServeNow();
        if (!_stopping)
        {
            _report.Write(_output, output, _utcMs, durable);
        }
    }

    // The next scan's time; null once a stop has been asked for, and the last scans then run by themselves.
    private long? NextScan()
    {
        while (!_stopping)
        {
            string? line = _peeked ?? _input.ReadLine();
            _peeked = null;
            if (line is null or "stop")
            {
                _stopping = true;
                _askStop();
            }
            else if (ConductedConsole.TryScan(line, out long utcMs))
            {
                return utcMs;
            }
            else
            {
                Answer(line);
            }
        }

        return null;
    }

    private void Answer(string line)
    {
        string answer = line.StartsWith("request ", StringComparison.Ordinal) ? Request(Encoding.UTF8.GetBytes(line["request ".Length..])) : "unknown command; expected scan UTCMS, request JSON or stop";
        _output.WriteLine(answer);
        _output.Flush();
    }

    private string Request(byte[] json)
    {
        if (!RequestReader.TryParse(json, out RequestMessage? message, out string fault)
            || !RequestReader.TryCheck(message!, _unitNames, "conductor", out RequestOrder? order, out fault))
        {
            return "request invalid " + fault;
        }

        long id = _desk.SubmitUnattended(order!);
        return id == RequestDesk.Busy ? "request busy" : id == RequestDesk.Unrecorded ? "request unrecorded" : "request " + id.ToString(CultureInfo.InvariantCulture);
    }
}
