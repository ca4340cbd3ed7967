using System.Buffers.Binary;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// A second evaluator of HARD, FLOW, ELEM, OUTL, COMM, SENS and JRNL, of latch, first-out and bypass, for one heater of
/// the test site. Written from the reference page and deliberately simple: it shares no code and no table with the first,
/// keeps its whole history in lists and looks back through it for each question. All limits stand here as numbers. What
/// it does not judge (state, permit, power proved off, the other functions) it takes as the guard said it.
/// </summary>
internal sealed class NaiveUnit(int firstBlock, double flowLimit, double elementTrip, double outletTrip, double coldBelow)
{
    private readonly List<bool> _chainOpen = [];
    private readonly List<bool> _chainUnknown = [];
    private readonly List<bool> _flowLow = [];
    private readonly List<bool> _elementHigh = [];
    private readonly List<bool> _outletHigh = [];
    private readonly Dictionary<FunctionId, List<bool>> _blind = new() { [FunctionId.Elem] = [], [FunctionId.Outl] = [] };
    private readonly List<bool>[] _lost = [[], [], [], []];
    private readonly List<bool> _journalBad = [];
    private readonly List<bool> _pending = [];
    private readonly List<bool> _proving = [];
    private readonly List<bool> _waitsForProof = [];
    private readonly List<bool> _tokenLate = [];
    private readonly Dictionary<FunctionId, (long From, long Until)> _bypasses = [];
    private bool _flowDemanded;
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
        JudgeFlow(scan.Scan, flow, said.PowerProvedOff);
        JudgeHigh(FunctionId.Elem, _elementHigh, element, elementTrip);
        JudgeHigh(FunctionId.Outl, _outletHigh, outlet, outletTrip);
        JudgeLink(scan, unit);
        JudgeSensors(element, outlet, flow, power);
        JudgeJournal(scan);
        TakeOthers(said);
        Latch();
    }

    /// <summary>Takes what the guard did in this scan: requests it accepted, the state it went into.</summary>
    public void Follow(RawScan scan, UnitDecision said, IEnumerable<GuardEvent> events)
    {
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

    private void Say(FunctionId function, bool demands)
    {
        if (demands)
        {
            Demands.Add(function);
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

    private void JudgeFlow(long scan, double? flow, bool provedOff)
    {
        bool power = _permit || _wasPending || (!provedOff && scan > 20);
        double limit = power ? flowLimit : 45;
        bool low = (power || _hot) && !(flow >= limit);
        _flowLow.Add(low);
        bool demands = Stood(_flowLow, power ? 5 : 300) || (low && _flowDemanded);
        _flowDemanded = demands;

        _proving.Add(_state == UnitState.PreFlow && flow >= 130);
        bool proved = Stood(_proving, _startedHot ? 10 : 20);
        _waitsForProof.Add(_state == UnitState.PreFlow && !proved);
        Say(FunctionId.Flow, demands || Stood(_waitsForProof, 680));
    }

    private void JudgeHigh(FunctionId function, List<bool> history, double? value, double trip)
    {
        bool before = history.Count > 0 && history[^1];
        history.Add(value is null ? before : value >= (before ? trip - 5 : trip));
        bool high = Stood(history, 5);
        _blind[function].Add(value is null && !high && (_permit || _wasPending));
        Say(function, high || (Bypassed.Contains(FunctionId.Sens) && Stood(_blind[function], 10)));
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

    private void JudgeSensors(double? element, double? outlet, double? flow, double? power)
    {
        double?[] values = [element, outlet, flow, power];
        for (int i = 0; i < 4; i++)
        {
            _lost[i].Add(values[i] is null);
            Say(FunctionId.Sens, Stood(_lost[i], 10));
        }
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
