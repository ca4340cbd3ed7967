using System.Buffers.Binary;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// A second evaluator of HARD, FLOW, ELEM, OUTL, COMM, SENS and JRNL, of latch, first-out and bypass, for one heater of
/// the test site, with forced values. Written from the reference page and deliberately simple: it shares no code and no table with the first,
/// keeps its whole history in lists and looks back through it for each question. All limits stand here as numbers. What
/// it does not judge (state, permit, power proved off, the other functions) it takes as the guard said it.
/// </summary>
internal sealed class NaiveUnit(int firstBlock, double flowLimit, double elementTrip, double outletTrip, double coldBelow)
{
    private readonly List<bool> _chainOpen = [];
    private readonly List<bool> _chainUnknown = [];
    private readonly Dictionary<FunctionId, List<bool>> _blind = new() { [FunctionId.Elem] = [], [FunctionId.Outl] = [] };
    private readonly Dictionary<string, (double Value, long From, long Until)> _forces = [];
    private readonly Dictionary<string, (double Value, long From, long Until)> _asked = [];
    private HashSet<string> _forcedBefore = [];
    private readonly NaiveHistory _real = new();
    private NaiveHistory _judged = new();
    private readonly List<bool> _journalBad = [];
    private readonly List<bool> _pending = [];
    private readonly List<bool> _proving = [];
    private readonly List<bool> _waitsForProof = [];
    private readonly List<bool> _tokenLate = [];
    private readonly Dictionary<FunctionId, (long From, long Until)> _bypasses = [];
    private bool _hot = true;
    private bool _startedHot;
    private UnitState _state = UnitState.Tripped;
    private bool _permit;
    private bool _wasPending;
    private int _unread;

    /// <summary>Functions that must demand in this scan.</summary>
    public HashSet<FunctionId> Demands { get; } = [];

    /// <summary>Functions whose bypass is in force in this scan.</summary>
    public HashSet<FunctionId> Bypassed { get; } = [];

    /// <summary>Functions that the real values make demand in this scan and the forced ones do not.</summary>
    public HashSet<FunctionId> TakenAway { get; } = [];

    /// <summary>Signals forced in this scan.</summary>
    public HashSet<string> Forced { get; } = [];

    /// <summary>First cause of the latch; None when not latched.</summary>
    public FunctionId FirstOut { get; private set; } = FunctionId.Start;

    /// <summary>Judges a scan from its raw words; the decision gives only what is not judged here.</summary>
    public void Judge(RawScan scan, int unit, UnitDecision said)
    {
        Demands.Clear();
        Bypassed.Clear();
        foreach ((FunctionId function, (long from, long until)) in _bypasses)
        {
            if (scan.DurableEvent >= from && scan.Scan < until)
            {
                Bypassed.Add(function);
            }
        }

        RawBlock[] blocks = scan.Blocks;
        double? element = Real(blocks[firstBlock + 1], 0, -50, 1_400, lowWordFirst: false);
        double? outlet = Real(blocks[firstBlock + 1], 2, -50, 1_300, lowWordFirst: false);
        double? power = Real(blocks[firstBlock + 1], 6, -1, 60, lowWordFirst: false);
        double? flow = Real(blocks[firstBlock + 2], 0, -5, 400, lowWordFirst: true);
        bool? chain = Fresh(blocks[firstBlock + 1]) ? (blocks[firstBlock + 1].Words[11] & 2) != 0 : null;
        JudgeChain(chain);
        JudgeHeat(element, outlet);
        bool gasNeeded = JudgeProof(scan.Scan, flow, said.PowerProvedOff);
        JudgeMeasured(scan, [element, outlet, flow, power], gasNeeded);
        JudgeLink(scan, unit);
        JudgeJournal(scan);
        TakeOthers(said);
        Latch();
    }

    /// <summary>Takes what the guard did in this scan: requests it accepted, the state it went into.</summary>
    public void Follow(RawScan scan, UnitDecision said, IEnumerable<GuardEvent> events)
    {
        // Every trip ends every force; a request of the same scan is taken after it.
        if (_state != UnitState.Tripped && said.State == UnitState.Tripped)
        {
            _asked.Clear();
            _forces.Clear();
        }

        foreach (GuardEvent e in events)
        {
            if (e.Id == EventId.Reset)
            {
                Assert.DoesNotContain(Demands, f => Removes(f) && !Bypassed.Contains(f));
                FirstOut = FunctionId.None;
            }

            if (e.Id == EventId.BypassBegun)
            {
                _bypasses[e.Function] = (e.Sequence, scan.Scan + ((long)e.Value * 600));
            }

            string signal = ((SignalRole)(e.Detail % 256)).ToString();
            if (e.Id == EventId.ForceBegun)
            {
                _asked[signal] = (e.Value, e.Sequence, scan.Scan + (e.Detail / 256 * 600));
            }

            if (e.Id == EventId.ForceEnded)
            {
                _asked.Remove(signal);
                _forces.Remove(signal);
            }

            if (e.Id == EventId.StartAccepted)
            {
                _startedHot = _hot;
            }
        }

        _state = said.State;
        _permit = said.Permit;
        _wasPending = said.PendingDurable;
    }

    private static bool Removes(FunctionId f) => f is not (FunctionId.Cool or FunctionId.Heat or FunctionId.Aftc or FunctionId.Dmnd or FunctionId.Jrnl or FunctionId.Leak or FunctionId.Bala);

    /// <summary>True in each of the last scans, this one included, over a delay of so many scans.</summary>
    private static bool Stood(List<bool> history, int delayScans) =>
        history.Count > delayScans && history.TakeLast(delayScans + 1).All(present => present);

    private static bool Fresh(RawBlock block) => block.AgeMs <= 500;

    private static double? Real(RawBlock block, int at, double min, double max, bool lowWordFirst)
    {
        Span<byte> bytes = stackalloc byte[4];
        BinaryPrimitives.WriteUInt16BigEndian(bytes, block.Words[lowWordFirst ? at + 1 : at]);
        BinaryPrimitives.WriteUInt16BigEndian(bytes[2..], block.Words[lowWordFirst ? at : at + 1]);
        float value = BinaryPrimitives.ReadSingleBigEndian(bytes);
        return Fresh(block) && value >= min && value <= max ? value : null;
    }

    private void Say(FunctionId function, bool demands) => Say(Demands, function, demands);

    private static void Say(HashSet<FunctionId> all, FunctionId function, bool demands)
    {
        if (demands)
        {
            all.Add(function);
        }
    }

    private void JudgeChain(bool? closed)
    {
        _chainOpen.Add(closed == false);
        _chainUnknown.Add(closed is null);
        Say(FunctionId.Hard, Stood(_chainOpen, 0) || Stood(_chainUnknown, 10));
    }

    /// <summary>Heat is stored until element and outlet are 5 K below the limit, and again 30 K above it.</summary>
    private void JudgeHeat(double? element, double? outlet)
    {
        double limit = _hot ? coldBelow - 5 : coldBelow + 30;
        _hot = element is null || element >= limit || outlet >= limit;
    }

    /// <summary>Proof of flow, which rests on the real flow; returns whether power is possible.</summary>
    private bool JudgeProof(long scan, double? flow, bool provedOff)
    {
        _proving.Add(_state == UnitState.PreFlow && flow >= 130);
        bool proved = Stood(_proving, _startedHot ? 10 : 20);
        _waitsForProof.Add(_state == UnitState.PreFlow && !proved);
        return _permit || _wasPending || (!provedOff && scan > 20);
    }

    /// <summary>
    /// FLOW, ELEM, OUTL and SENS twice: with the real values, whose history goes on always, and with the forced ones in their
    /// place. Where nothing is forced both are one; where less is forced than in the scan before, the history of the
    /// functions concerned is the real one again.
    /// </summary>
    private void JudgeMeasured(RawScan scan, double?[] real, bool power)
    {
        BeginForces(scan);
        double?[] judged = [Value("ElementTemperature", real[0]), Value("OutletTemperature", real[1]), Value("GasFlow", real[2]), real[3]];
        if (Forced.Count == 0)
        {
            _judged = _real;
        }
        else if (_forcedBefore.Count == 0)
        {
            _judged = _real.Copy();
        }

        foreach (FunctionId function in (FunctionId[])[FunctionId.Flow, FunctionId.Elem, FunctionId.Outl, FunctionId.Sens])
        {
            if (Forced.Count > 0 && _forcedBefore.Except(Forced).Any(s => Uses(function, s)))
            {
                _judged.Take(function, _real);
            }
        }

        HashSet<FunctionId> byReal = Measure(_real, real, power);
        HashSet<FunctionId> byJudged = Forced.Count == 0 ? byReal : Measure(_judged, judged, power);
        JudgeBlind(judged, byJudged);
        Demands.UnionWith(byJudged);
        TakenAway.Clear();
        TakenAway.UnionWith(byReal.Where(f => !byJudged.Contains(f) && Forced.Any(s => Uses(f, s))));
        _forcedBefore = [.. Forced];
    }

    private void BeginForces(RawScan scan)
    {
        foreach ((string signal, (double value, long from, long until)) in _asked.ToArray())
        {
            if (scan.DurableEvent >= from)
            {
                _forces[signal] = (value, from, until);
                _asked.Remove(signal);
            }
        }

        foreach (string signal in _forces.Where(f => scan.Scan >= f.Value.Until).Select(f => f.Key).ToArray())
        {
            _forces.Remove(signal);
        }

        Forced.Clear();
        Forced.UnionWith(_forces.Keys);
    }

    private double? Value(string signal, double? real) => _forces.TryGetValue(signal, out (double Value, long, long) force) ? force.Value : real;

    private static bool Uses(FunctionId function, string signal) => function switch
    {
        FunctionId.Flow => signal is "GasFlow" or "ElementTemperature" or "InletTemperature",
        FunctionId.Elem => signal is "ElementTemperature",
        FunctionId.Outl => signal is "OutletTemperature",
        _ => signal is "ElementTemperature" or "OutletTemperature" or "GasFlow",
    };

    private HashSet<FunctionId> Measure(NaiveHistory history, double?[] values, bool power)
    {
        var demands = new HashSet<FunctionId>();
        bool low = (power || _hot) && !(values[2] >= (power ? flowLimit : 45));
        history.FlowLow.Add(low);
        history.FlowDemanded = Stood(history.FlowLow, power ? 5 : 300) || (low && history.FlowDemanded);
        Say(demands, FunctionId.Flow, history.FlowDemanded || Stood(_waitsForProof, 680));
        Say(demands, FunctionId.Elem, High(history.ElementHigh, values[0], elementTrip));
        Say(demands, FunctionId.Outl, High(history.OutletHigh, values[1], outletTrip));
        for (int i = 0; i < 4; i++)
        {
            history.Lost[i].Add(values[i] is null);
            Say(demands, FunctionId.Sens, Stood(history.Lost[i], 10));
        }

        return demands;
    }

    private static bool High(List<bool> history, double? value, double trip)
    {
        bool before = history.Count > 0 && history[^1];
        history.Add(value is null ? before : value >= (before ? trip - 5 : trip));
        return Stood(history, 5);
    }

    /// <summary>With SENS bypassed a limit whose value is not good demands itself.</summary>
    private void JudgeBlind(double?[] judged, HashSet<FunctionId> demands)
    {
        (FunctionId Function, double? Value)[] limits = [(FunctionId.Elem, judged[0]), (FunctionId.Outl, judged[1])];
        foreach ((FunctionId function, double? value) in limits)
        {
            _blind[function].Add(value is null && !demands.Contains(function) && (_permit || _wasPending));
            Say(demands, function, Bypassed.Contains(FunctionId.Sens) && Stood(_blind[function], 10));
        }
    }

    private void JudgeLink(RawScan scan, int unit)
    {
        bool read = scan.Blocks[firstBlock].Result == ReadResult.Good;
        _unread = read ? 0 : _unread + 1;
        bool old = !read && (_unread * 100) + (scan.Blocks[firstBlock].AgeMs == int.MaxValue ? 0 : 20) > 1_000;
        CommandFeedback feedback = scan.Feedback[unit * CommandRoles.Count];
        _tokenLate.Add(_permit && feedback is not (CommandFeedback.Confirmed or CommandFeedback.None));
        Say(FunctionId.Comm, old || Stood(_tokenLate, 20));
    }

    private void JudgeJournal(RawScan scan)
    {
        _journalBad.Add(scan.Journal != JournalHealth.Healthy);
        _pending.Add(_wasPending);
        Say(FunctionId.Jrnl, Stood(_journalBad, 30) || Stood(_pending, 30));
    }

    private void TakeOthers(UnitDecision said)
    {
        foreach (FunctionId other in (FunctionId[])[FunctionId.Start, FunctionId.Nors, FunctionId.Resd, FunctionId.Cmdv, FunctionId.Self])
        {
            Say(other, said.Functions[(int)other].State == FunctionState.Demand);
        }
    }

    private void Latch()
    {
        FunctionId[] causes = [.. Demands.Where(f => Removes(f) && !Bypassed.Contains(f)).Order()];
        if (FirstOut == FunctionId.None && causes.Length > 0)
        {
            FirstOut = causes[0];
        }
    }
}
