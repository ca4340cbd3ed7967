using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// The scan thread. Each scan samples its inputs once, lets the core decide, and applies the decision in one fixed
/// order of effects:
/// <list type="number">
/// <item>de-energising writes are offered and the link workers woken: a removal waits for nothing;</item>
/// <item>events go to the journal's queue; their durability comes back as the watermark of a later scan;</item>
/// <item>energising writes are offered; the core itself holds a permit back until its event is durable;</item>
/// <item>copies go to ring, raw recording and status, which may drop but never delay.</item>
/// </list>
/// The thread touches no socket, no disk and no lock and allocates nothing. When its own logic breaks (an exception
/// here or in the shared part of the core) it offers removal for every enforced unit and ends; the process must then
/// end too, because nobody guards any more.
/// </summary>
public sealed class ScanLoop
{
    private const int StopScansMin = 3;

    private readonly SiteTable _site;
    private readonly ScanPorts _ports;
    private readonly IScanCopy[] _copies;
    private readonly RawScan _scan;
    private readonly ScanOutput _output;
    private readonly RemovalPaths[] _removal;
    private readonly long _periodUs;
    private readonly int _stopScansMax;
    private int _stopAsked;
    private int _stopScans;

    /// <summary>Allocates everything the loop will use.</summary>
    /// <param name="site">The site.</param>
    /// <param name="ports">What the loop touches.</param>
    /// <param name="stopLimitMs">Longest time an orderly stop waits for confirmed writes, ms.</param>
    public ScanLoop(SiteTable site, ScanPorts ports, int stopLimitMs = 3_000)
    {
        ArgumentNullException.ThrowIfNull(site);
        ArgumentNullException.ThrowIfNull(ports);
        _site = site;
        _ports = ports;
        _copies = [.. ports.Copies];
        _scan = new RawScan([.. site.BlockWordCounts], site.Units.Count);
        _output = new ScanOutput(site.Units.Count);
        _removal = [.. site.Units.Select(static u => new RemovalPaths(u))];
        _periodUs = site.ScanMs * 1000L;
        _stopScansMax = Math.Max(StopScansMin, stopLimitMs / site.ScanMs);
    }

    /// <summary>How well deadlines are kept.</summary>
    public ScanStatistics Statistics { get; } = new();

    /// <summary>True when an orderly stop ended with every write confirmed and no permit left.</summary>
    public bool StoppedConfirmed { get; private set; }

    /// <summary>The fault that broke the loop; null while it runs and after an orderly stop.</summary>
    public Exception? Broken { get; private set; }

    /// <summary>Asks for an orderly stop: every unit gets a stop request, the loop ends when all writes are confirmed or the limit has passed.</summary>
    public void AskStop() => Volatile.Write(ref _stopAsked, 1);

    /// <summary>Runs until stopped or broken; to be called on a thread of its own.</summary>
    public void Run()
    {
        try
        {
            ScanTick tick = default;
            for (long scan = 0; !IsStopDone() && _ports.Pacer.WaitNext(ref tick); scan++)
            {
                ScanOnce(scan, tick);
            }
        }
        catch (Exception fault)
        {
            Broken = fault;
            DeEnergiseAll();
        }
    }

    private void ScanOnce(long scan, in ScanTick tick)
    {
        long beginUs = _ports.Clock.NowUs;
        FillInputs(scan, tick);
        _ports.Core.Step(_scan, _output);
        OfferWrites(deEnergising: true);
        HandOverEvents();
        OfferWrites(deEnergising: false);
        foreach (IScanCopy copy in _copies)
        {
            copy.Copy(tick, _scan, _output);
        }

        Statistics.Count(tick, _periodUs, _ports.Clock.NowUs - beginUs);
        _ports.Pacer.Done(_output);
    }

    private void FillInputs(long scan, in ScanTick tick)
    {
        _scan.Scan = scan;
        _scan.UtcUnixMs = tick.UtcUnixMs;
        _scan.Clock = tick.Clock;
        _scan.GapMs = tick.GapMs;
        _scan.SkippedScans = (int)Math.Clamp(tick.Skipped, 0, int.MaxValue);
        // Health before watermark: an event lost in between then shows as failing no later than the watermark stops.
        _scan.Journal = _ports.Events.Health;
        _scan.DurableEvent = _ports.Events.DurableEvent;
        _ports.Field.Fill(_scan, tick.NominalUs);
        if (Volatile.Read(ref _stopAsked) == 0)
        {
            _ports.Requests.Take(_scan.Requests);
            return;
        }

        // Nobody starts a unit in the last scans of a guard: requests stay where they are and are withdrawn.
        Array.Clear(_scan.Requests);
        AdvanceStop();
    }

    private void AdvanceStop()
    {
        if (_stopScans == 0)
        {
            RequestStopOfAll();
        }

        _stopScans++;
        StoppedConfirmed = _stopScans >= StopScansMin && IsRemovalConfirmed();
    }

    // An orderly stop is a request like any other, so that the core removes power by its own rules, the journal says
    // so, and the blower is left as after-cooling wants it.
    private void RequestStopOfAll()
    {
        for (int unit = 0; unit < _scan.Requests.Length; unit++)
        {
            _scan.Requests[unit] = new OperatorRequest { Kind = RequestKind.Stop, Id = _ports.Requests.NextId() };
        }
    }

    private void OfferWrites(bool deEnergising)
    {
        for (int unit = 0; unit < _output.Units.Length; unit++)
        {
            CommandDecision[] commands = _output.Units[unit].Commands;
            for (int role = 0; role < commands.Length; role++)
            {
                if (commands[role].Write && commands[role].DeEnergising == deEnergising)
                {
                    _ports.Field.Offer(unit, (CommandRole)role, commands[role]);
                }
            }
        }

        _ports.Field.WakeWorkers();
    }

    private void HandOverEvents()
    {
        for (int i = 0; i < _output.EventCount; i++)
        {
            _ports.Events.Enqueue(_output.Events[i]);
            if (_output.Events[i].Id is EventId.RequestAccepted or EventId.RequestRefused)
            {
                _ports.Requests.Decided(_output.Events[i]);
            }
        }
    }

    private bool IsStopDone() => _stopScans >= StopScansMin && (StoppedConfirmed || _stopScans >= _stopScansMax);

    // The output is still that of the scan before, the feedback what became of its writes: no permit stands, and the
    // device has confirmed every removal. The core goes on to repeat them; that is no reason to wait.
    private bool IsRemovalConfirmed()
    {
        for (int unit = 0; unit < _output.Units.Length; unit++)
        {
            UnitDecision decision = _output.Units[unit];
            if (decision.Permit)
            {
                return false;
            }

            for (int role = 0; role < CommandRoles.Count; role++)
            {
                bool removing = decision.Commands[role].Write && decision.Commands[role].DeEnergising;
                if (removing && _scan.Feedback[(unit * CommandRoles.Count) + role] != CommandFeedback.Confirmed)
                {
                    return false;
                }
            }
        }

        return true;
    }

    private void DeEnergiseAll()
    {
        for (int unit = 0; unit < _site.Units.Count; unit++)
        {
            if (_site.Units[unit].Enforces)
            {
                OfferRemoval(unit);
            }
        }

        _ports.Field.WakeWorkers();
    }

    private void OfferRemoval(int unit)
    {
        foreach (CommandTable command in _site.Units[unit].Commands)
        {
            double value = _removal[unit].ValueOf(command.Role, _output.Units[unit].Image);
            if (!double.IsNaN(value))
            {
                _ports.Field.Offer(unit, command.Role, new CommandDecision { Value = value, Write = true, DeEnergising = true });
            }
        }
    }
}
