using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// One unit's share of a scan, in this order: image and facts, every function, trips, alarms, request, progress of the
/// state, commands, and last what people are told of it. A broken invariant in it trips and latches this unit alone and stays until the guard is restarted:
/// memory that contradicted itself is not trusted again.
/// </summary>
internal sealed class UnitGuard
{
    private readonly ProtectiveFunction[] _functions;
    private readonly CommandFunction _commandFunction;
    private readonly BalanceFunction _balance;
    private readonly SensorFunction _sensors;
    private readonly LeakFunction _leak;
    private readonly UnitFacts _facts;
    private readonly UnitSequence _sequence;
    private readonly SupplyBudget _supply;
    private readonly RequestJudge _requests;
    private readonly CommandWriter _writer;
    private readonly AlarmWatch _alarms = new();
    private readonly FindingWatch _findings = new();
    private readonly BlindWatch _blind = new();
    private readonly EventSink _sink;
    private readonly ScanImage _judged = new();
    private readonly ScanImage _decoded = new();
    private readonly ScanImage _real = new();
    private bool _lossTold;
    private bool _brokeInPreparation;
    private bool _brokenTold;

    public UnitGuard(UnitMemory memory, SupplyBudget supply, EventSink sink)
    {
        Memory = memory;
        _sink = sink;
        _commandFunction = new CommandFunction(memory.Table, memory.Site.ScanMs);
        _balance = new BalanceFunction(memory.Table.Bala, memory.Kept.Loss);
        _sensors = new SensorFunction(memory.Table.Sens.Model, memory.Kept.Floors);
        _leak = new LeakFunction(memory.Table.Leak, memory.Kept.Leakage, memory.Kept.Insulation);
        _lossTold = _balance.IsLearnt;
        _facts = new UnitFacts(memory);
        _supply = supply;
        _sequence = new UnitSequence(memory, supply, sink);
        _requests = new RequestJudge(memory, _sequence, sink);
        _writer = new CommandWriter(memory);
        _functions =
        [
            new LatchFunction(FunctionId.Start), new HardFunction(), new FlowFunction(memory), new ElementFunction(memory.Table.Elem),
            new OutletFunction(memory.Table.Outl), new NoResponseFunction(memory.Table, memory.Site.ScanMs), new ResidualFunction(),
            new CommFunction(memory.Table), _sensors, _commandFunction, new CoolRateFunction(), new HeatRateFunction(),
            new AfterCoolingFunction(), new SupplyFunction(), new JournalFunction(), new LatchFunction(FunctionId.Stop),
            new LatchFunction(FunctionId.Self), new PhaseFunction(memory.Table.Phas, memory.Site.ScanMs), _leak,
            _balance,
        ];
    }

    public UnitMemory Memory { get; }

    /// <summary>Builds image and facts; before any unit decides, so that shared sums see all units of this scan.</summary>
    /// <param name="scan">Inputs.</param>
    /// <param name="nominalScan">Number of the scan with the skipped ones counted.</param>
    /// <param name="lastDurable">Highest event known to be on disk.</param>
    /// <param name="decision">Its image is overwritten.</param>
    public void Prepare(RawScan scan, long nominalScan, long lastDurable, UnitDecision decision)
    {
        Memory.Raw = scan;
        Memory.Scan = nominalScan;
        Memory.SeenScan = scan.Scan;
        (Memory.Image, Memory.Real, Memory.Decoded) = (decision.Image, decision.Image, decision.Image);
        try
        {
            AssertBlocks(scan);
            ImageBuilder.Build(Memory.Table, scan, decision.Image);
            Force(decision.Image, lastDurable, decision.Forced);
            Vote(decision.Image);
            if (!Memory.SelfBroken)
            {
                _facts.Update(Memory);
            }
        }
        catch (Exception)
        {
            _brokeInPreparation = true;
            Clear(decision.Image);
            Array.Clear(decision.Forced);
        }
    }

    /// <summary>Puts forced values into the image and keeps the decoded ones beside it.</summary>
    private void Force(ScanImage image, long lastDurable, ForcedSignal[] shown)
    {
        if (!Memory.Forces.IsConfigured)
        {
            return;
        }

        Memory.Forces.BeginScan(Memory, lastDurable);
        if (Memory.Forces.InEffect != 0)
        {
            Copy(image, _decoded);
            (Memory.Decoded, Memory.Real) = (_decoded, _decoded);
            Memory.Forces.Override(image);
        }

        Memory.Forces.Show(Memory, shown);
    }

    private void Vote(ScanImage image)
    {
        if (Memory.Voters.Length == 0)
        {
            return;
        }

        bool forced = Memory.Real != image;
        Copy(image, _judged);
        foreach (RoleVoter voter in Memory.Voters)
        {
            voter.Vote(Memory, image, _judged);
        }

        (Memory.Image, Memory.Real) = (_judged, _judged);
        if (forced)
        {
            Copy(_decoded, _real);
            foreach (RoleVoter voter in Memory.Voters)
            {
                voter.VoteReal(Memory, _decoded, _real);
            }

            Memory.Real = _real;
        }
    }

    private static void Copy(ScanImage from, ScanImage to)
    {
        for (int role = 0; role < SignalRoles.Count; role++)
        {
            to[(SignalRole)role] = from[(SignalRole)role];
        }
    }

    /// <summary>Decides.</summary>
    public void Decide(UnitDecision decision, long lastDurable)
    {
        _sink.BeginUnit(Memory.Unit);
        try
        {
            Assert(!_brokeInPreparation, "The image could not be built.");
            if (!Memory.SelfBroken)
            {
                DecideWhole(decision, lastDurable);
                return;
            }
        }
        catch (Exception)
        {
            Memory.SelfBroken = true;
        }

        DecideBroken(decision);
    }

    private void DecideWhole(UnitDecision decision, long lastDurable)
    {
        Memory.Bypasses.BeginScan(Memory, _sink, lastDurable);
        Memory.Forces.Tell(Memory, _sink);
        _findings.Tell(Memory, _sink);
        _leak.Follow(Memory);
        Evaluate(decision);
        _blind.DemandForBypassedSens(Memory, decision.Functions);
        TellLearnt();
        _sequence.ApplyVerdicts(decision.Functions);
        FindingWatch.TellReadBacks(Memory, _commandFunction, _sink);
        _alarms.Tell(Memory, decision.Functions, _sink);
        _requests.Take(decision.Functions);
        _requests.TakeButton(decision.Functions);
        Memory.Trips.TellRepeatedResets(Memory, _sink);
        _sequence.Progress(decision.Functions, lastDurable);
        Assert(!Memory.Permit || Memory.State is UnitState.Heating or UnitState.Holding or UnitState.LedCooldown, "Permit in a state without one.");
        Assert(!Memory.Permit || NoDemand(decision.Functions), "Permit beside a demand.");
        Assert(_blind.Holds(Memory, decision.Functions), "Permit beside a function that cannot judge for longer than its delay.");
        Assert(!Memory.PendingDurable || Memory.State == UnitState.PreFlow, "Permit pending outside pre-flow.");
        _writer.Write(decision);
        Publish(decision);
        Memory.Alarms.Step(Memory, decision, _sink);
    }

    private void TellLearnt()
    {
        if (_balance.IsLearnt && !_lossTold)
        {
            _sink.Raise(EventId.Learnt, FunctionId.Bala, _balance.Learnt.KwPerK);
        }

        _lossTold = _balance.IsLearnt;
        _sensors.TellLearnt(_sink);
    }

    private void Evaluate(UnitDecision decision)
    {
        int evaluated = 0;
        foreach (ProtectiveFunction function in _functions)
        {
            ref FunctionStatus status = ref decision.Functions[(int)function.Id];
            status = default;
            status.SinceScan = -1;
            status.Reaction = FunctionIds.ReactionOf(function.Id);
            Evaluate(function, ref status);
            MarkBypass(function.Id, ref status);
            status.SinceScan = Since(status.SinceScan);
            evaluated++;
            Assert((int)function.Id == evaluated, "Functions are not evaluated in their order.");
        }

        Assert(evaluated == FunctionIds.EvaluatedEachScan, "A function was not evaluated.");
        decision.FunctionsEvaluated = evaluated;
        decision.Functions[(int)FunctionId.None] = new FunctionStatus { State = FunctionState.Idle, SinceScan = -1 };
    }

    /// <summary>
    /// The verdict of one function. What judges real values only, and what the real values of a forced signal come to, is
    /// judged on the real image; a demand of theirs that a forced value takes away is an alarm.
    /// </summary>
    private void Evaluate(ProtectiveFunction function, ref FunctionStatus status)
    {
        ScanImage judged = Memory.Image;
        if (Memory.Real == judged)
        {
            function.Evaluate(Memory, ref status);
            return;
        }

        Memory.Image = function.JudgesForced ? judged : Memory.Real;
        function.Evaluate(Memory, ref status);
        if (Memory.ForcedInputs(function.Id) != 0)
        {
            JudgeReal(function, ref status);
        }

        Memory.Image = judged;
    }

    private void JudgeReal(ProtectiveFunction function, ref FunctionStatus status)
    {
        ref FunctionStatus real = ref Memory.RealVerdicts[(int)function.Id];
        real = status;
        if (function.JudgesForced)
        {
            double setbackPercent = Memory.SetbackPercent; // an output of the judgement that takes effect
            real = new FunctionStatus { SinceScan = -1, Reaction = FunctionIds.ReactionOf(function.Id) };
            Memory.Image = Memory.Real;
            function.EvaluateReal(Memory, ref real);
            Memory.SetbackPercent = setbackPercent;
        }

        bool milder = status.Reaction != Reaction.Removal && real.Reaction == Reaction.Removal;
        bool takenAway = !function.JudgesForced || status.State != FunctionState.Demand || milder;
        status.ForcedDemand = takenAway && real.State == FunctionState.Demand && real.Reaction != Reaction.Alarm;
        real.SinceScan = Since(real.SinceScan);
        if (status.ForcedDemand && (!function.JudgesForced || status.State is FunctionState.Healthy or FunctionState.Idle or FunctionState.Alarm))
        {
            status = real with { State = FunctionState.Alarm, SinceScan = status.SinceScan, ForcedDemand = true };
        }
    }

    private void MarkBypass(FunctionId function, ref FunctionStatus status)
    {
        long scansLeft = Memory.Bypasses.ScansLeft(function, Memory.Scan);
        status.Bypassed = scansLeft > 0;
        status.BypassSecondsLeft = (int)(((scansLeft * Memory.Site.ScanMs) + 999) / 1_000);
    }

    /// <summary>Since when, as far back from this scan as the condition has stood: a reader who takes the difference in periods gets the true time.</summary>
    private long Since(long nominalScan) => nominalScan < 0 ? -1 : Math.Max(0, nominalScan - (Memory.Scan - Memory.SeenScan));

    private void DecideBroken(UnitDecision decision)
    {
        Memory.SelfBroken = true;
        _sink.OpenReserve();
        if (!_brokenTold)
        {
            _brokenTold = true;
            _sequence.LatchSelf();
        }

        Memory.Permit = false;
        Memory.PendingDurable = false;
        Memory.PowerProvedOff = false;
        decision.FunctionsEvaluated = 0;
        for (int i = 0; i < FunctionIds.Count; i++)
        {
            decision.Functions[i] = new FunctionStatus { State = FunctionState.NotGood, SinceScan = -1 };
        }

        decision.Functions[(int)FunctionId.Self].State = FunctionState.Demand;
        _requests.TakeBroken();
        _writer.WriteSafe(decision);
        Publish(decision);
        Memory.Alarms.Step(Memory, decision, _sink);
    }

    private void Publish(UnitDecision decision)
    {
        for (int i = 0; i < FunctionIds.Count; i++)
        {
            Memory.Previous[i] = decision.Functions[i].State;
            Memory.PreviousBypassed[i] = decision.Functions[i].Bypassed;
            Memory.PreviousForced[i] = decision.Functions[i].ForcedDemand;
        }

        decision.State = Memory.State;
        decision.FirstOut = Memory.FirstOut;
        decision.Permit = Memory.Permit;
        decision.PendingDurable = Memory.PendingDurable;
        decision.LedSetpointC = Memory.LedSetpointC;
        decision.RampHeld = Memory.RampHeld;
        decision.SupplyPlace = _supply.PlaceOf(Memory);
        decision.PowerProvedOff = Memory.PowerProvedOff;
        decision.ElementSlopeKPerMin = Memory.ElementSlopeKPerMin;
        decision.CoolSlopeKPerMin = Memory.CoolSlopeKPerMin;
        decision.TripCount = Memory.TripCount;
        decision.LastTrip = Memory.Trips.LastTrip;
        decision.LastTripClass = Memory.Trips.LastClass;
        decision.ResetsTooOften = Memory.Trips.ResetsTooOften;
        decision.Loss = _balance.Learnt;
        decision.Floors = _sensors.Learnt;
        if (Memory.Table.Leak is { TrendDays: > 0 })
        {
            (decision.Leakage, decision.Insulation) = (_leak.Leakage, _leak.Insulation);
        }

        Memory.Trips.Counts.CopyTo(decision.Counts);
    }

    private void AssertBlocks(RawScan scan)
    {
        foreach (SignalTable signal in Memory.Signals)
        {
            bool whole = signal.Block >= 0 && signal.Block < scan.Blocks.Length
                && scan.Blocks[signal.Block].Words.Length == Memory.Site.BlockWordCounts[signal.Block];
            Assert(whole, "A block has not the size of the site table.");
        }
    }

    private static bool NoDemand(FunctionStatus[] verdicts)
    {
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            if (verdicts[i] is { State: FunctionState.Demand, Reaction: Reaction.Removal, Bypassed: false })
            {
                return false;
            }
        }

        return true;
    }

    private static void Clear(ScanImage image)
    {
        for (int i = 0; i < SignalRoles.Count; i++)
        {
            image[(SignalRole)i] = default;
        }
    }

    private static void Assert(bool holds, string message)
    {
        if (!holds)
        {
            throw new InvariantFault(message);
        }
    }
}
