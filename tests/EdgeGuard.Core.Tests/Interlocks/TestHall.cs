using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>A guard with its cabinets, stepped together: the fluent way to bring a site into a state and to look at it.</summary>
public sealed class TestHall
{
    private long _requestId;
    private long _lastSequence;

    public TestHall(SiteTable site, params KeptFigures[] kept)
    {
        Site = site;
        Guard = new Guard(site, kept);
        Scan = new RawScan([.. site.BlockWordCounts], site.Units.Count) { Scan = -1, Journal = JournalHealth.Healthy, Clock = ClockQuality.Even };
        Output = new ScanOutput(site.Units.Count);
        Cabinets = [.. site.Units.Select((u, i) => new TestCabinet(i, u.RatedPowerKw))];
    }

    public SiteTable Site { get; }
    public Guard Guard { get; }
    public RawScan Scan { get; }
    public ScanOutput Output { get; }
    public TestCabinet[] Cabinets { get; }

    /// <summary>All events so far are durable in the next scan; otherwise the watermark stands still.</summary>
    public bool DurableFollows { get; set; } = true;

    /// <summary>Called after each scan, before the writes take effect.</summary>
    public Action<TestHall>? AfterStep { get; set; }

    /// <summary>Called after the poll and before the step, to spoil words or ages.</summary>
    public Action<TestHall>? BeforeStep { get; set; }

    public UnitDecision this[int unit] => Output.Units[unit];

    public TestHall Run(int scans = 1)
    {
        for (int i = 0; i < scans; i++)
        {
            Step();
        }

        return this;
    }

    public TestHall Request(int unit, RequestKind kind, bool remote = false)
    {
        Scan.Requests[unit] = new OperatorRequest { Kind = kind, Id = ++_requestId, Remote = remote };
        return this;
    }

    public TestHall Request(int unit, RequestKind kind, FunctionId function, ushort minutes = 0)
    {
        Scan.Requests[unit] = new OperatorRequest { Kind = kind, Id = ++_requestId, Function = function, Minutes = minutes };
        return this;
    }

    public TestHall Force(int unit, SignalRole signal, double value, ushort minutes)
    {
        Scan.Requests[unit] = new OperatorRequest { Kind = RequestKind.Force, Id = ++_requestId, Signal = signal, Value = value, Minutes = minutes };
        return this;
    }

    public TestHall Unforce(int unit, SignalRole signal)
    {
        Scan.Requests[unit] = new OperatorRequest { Kind = RequestKind.Unforce, Id = ++_requestId, Signal = signal };
        return this;
    }

    /// <summary>The machine stands still for some periods; the next scan knows it.</summary>
    public TestHall Skip(int scans)
    {
        Scan.SkippedScans = scans;
        Scan.GapMs = (scans + 1) * Site.ScanMs;
        return this;
    }

    public TestHall RunUntil(Func<TestHall, bool> reached, int scansMax)
    {
        for (int i = 0; i < scansMax; i++)
        {
            Step();
            if (reached(this))
            {
                return this;
            }
        }

        throw new InvalidOperationException($"Not reached within {scansMax} scans; state {string.Join(", ", Output.Units.Select(u => u.State))}.");
    }

    /// <summary>From power-on to a given state with everything in order.</summary>
    public TestHall BringTo(int unit, UnitState state)
    {
        Run(40).Request(unit, RequestKind.Reset).Run();
        if (state != UnitState.Ready)
        {
            Request(unit, RequestKind.Start).RunUntil(h => h[unit].State == state, 20_000);
        }

        return this;
    }

    private void Step()
    {
        Scan.Scan++;
        Scan.UtcUnixMs = Scan.Scan * Site.ScanMs;
        Scan.DurableEvent = DurableFollows ? _lastSequence : Scan.DurableEvent;
        foreach (TestCabinet cabinet in Cabinets)
        {
            cabinet.Poll(Scan, Site.ScanMs);
        }

        BeforeStep?.Invoke(this);
        Guard.Step(Scan, Output);
        _lastSequence = Output.EventCount > 0 ? Output.Events[Output.EventCount - 1].Sequence : _lastSequence;
        AfterStep?.Invoke(this);
        Scan.GapMs = Scan.SkippedScans > 0 ? 0 : Scan.GapMs;
        Scan.SkippedScans = 0;
        for (int i = 0; i < Cabinets.Length; i++)
        {
            Cabinets[i].Apply(Output.Units[i]);
            Scan.Requests[i] = default;
        }
    }
}
