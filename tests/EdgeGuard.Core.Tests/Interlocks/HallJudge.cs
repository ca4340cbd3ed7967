using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// Judges every scan of a hall from the cabinet's side, without asking the guard why: how long each danger has stood,
/// what was written, what the watermark said. Deliberately naive; it knows the delays of <see cref="TestSite"/> only.
/// </summary>
public sealed class HallJudge
{
    private const int DelayScans = 5;
    private const int SensScans = 10;
    private const int StaleScans = 5;

    private readonly UnitMemoryOfJudge[] _units;
    private long _sequence;

    public HallJudge(TestHall hall)
    {
        _units = [.. hall.Cabinets.Select(_ => new UnitMemoryOfJudge())];
        hall.AfterStep = Judge;
    }

    /// <summary>Scans in which some unit had a permit: a property over scans without one would be empty.</summary>
    public int ScansWithPermit { get; private set; }

    public int Trips { get; private set; }

    private void Judge(TestHall hall)
    {
        for (int i = 0; i < hall.Output.EventCount; i++)
        {
            GuardEvent e = hall.Output.Events[i];
            Assert.Equal(++_sequence, e.Sequence);
            Assert.Equal(hall.Output.Scan, e.Scan);
            Trips += e.Id is EventId.Trip or EventId.WouldTrip ? 1 : 0;
        }

        for (int i = 0; i < hall.Cabinets.Length; i++)
        {
            JudgeUnit(hall, i);
        }
    }

    private void JudgeUnit(TestHall hall, int index)
    {
        UnitDecision unit = hall[index];
        TestCabinet cabinet = hall.Cabinets[index];
        UnitTable table = hall.Site.Units[index];
        UnitMemoryOfJudge memory = _units[index];
        Assert.Equal(20, unit.FunctionsEvaluated);
        JudgeLatch(hall, index, memory);
        JudgePermit(hall, index, memory);
        JudgeDangers(unit, cabinet, table, memory);
        JudgeWrites(unit, cabinet, table, memory);
        memory.Before = unit.State;
        memory.PermitBefore = unit.Permit;
        ScansWithPermit += unit.Permit ? 1 : 0;
    }

    private static void JudgeLatch(TestHall hall, int index, UnitMemoryOfJudge memory)
    {
        bool reset = false;
        bool permitEvent = false;
        for (int i = 0; i < hall.Output.EventCount; i++)
        {
            GuardEvent e = hall.Output.Events[i];
            reset |= e.Unit == index && e.Id == EventId.Reset;
            permitEvent |= e.Unit == index && e.Id == EventId.PermitGranted;
            memory.PermitEvent = e.Unit == index && e.Id == EventId.PermitGranted ? e.Sequence : memory.PermitEvent;
        }

        UnitDecision unit = hall[index];
        Assert.False(memory.Before == UnitState.Tripped && unit.State != UnitState.Tripped && !reset, "a trip cleared without a reset");
        Assert.False(reset && (unit.State != UnitState.Ready || unit.Permit), "a reset did more than clear the latch");
        Assert.Equal(unit.State == UnitState.Tripped, unit.FirstOut != FunctionId.None);
        Assert.False(permitEvent && unit.Permit, "a permit in the scan of its event");
    }

    private static void JudgePermit(TestHall hall, int index, UnitMemoryOfJudge memory)
    {
        UnitDecision unit = hall[index];
        if (!unit.Permit)
        {
            return;
        }

        Assert.Equal(UnitMode.Enforce, hall.Site.Units[index].Mode);
        Assert.True(unit.State is UnitState.Heating or UnitState.Holding or UnitState.LedCooldown);
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            bool removes = FunctionIds.ReactionOf((FunctionId)i) == Reaction.Removal;
            Assert.False(removes && unit.Functions[i].State == FunctionState.Demand, $"a permit beside a demand of {(FunctionId)i}");
            bool granted = !memory.PermitBefore;
            Assert.False(granted && FunctionIds.Blocks((FunctionId)i, unit.Functions[i].State), $"granted beside {(FunctionId)i}");
        }

        if (!memory.PermitBefore)
        {
            Assert.True(hall.Scan.DurableEvent >= memory.PermitEvent, "permit before its event was durable");
            Assert.Equal(JournalHealth.Healthy, hall.Scan.Journal);
        }
    }

    /// <summary>How long each danger may stand beside a permit, counted from the registers.</summary>
    private static void JudgeDangers(UnitDecision unit, TestCabinet cabinet, UnitTable table, UnitMemoryOfJudge memory)
    {
        bool read = cabinet.Link == ReadResult.Good;
        memory.Unread = read ? 0 : memory.Unread + 1;
        memory.Count(0, read && cabinet.FlowNow is < 0 or > 400 || (read && cabinet.FlowNow < table.Flow.LimitKgPerHour), unit.Permit);
        memory.Count(1, read && cabinet.Element >= table.Elem.TripC && cabinet.Element < 1400, unit.Permit);
        memory.Count(2, read && cabinet.Outlet >= table.Outl.TripC && cabinet.Outlet < 1300, unit.Permit);
        memory.Count(3, read && (cabinet.Element > 1400 || cabinet.Outlet > 1300 || cabinet.PowerNow > 60), unit.Permit);
        Assert.True(memory.Standing[0] <= DelayScans, "permit with low flow");
        Assert.True(memory.Standing[1] <= DelayScans, "permit with a hot element");
        Assert.True(memory.Standing[2] <= DelayScans, "permit with a hot outlet");
        Assert.True(memory.Standing[3] <= SensScans, "permit with a broken sensor");
        Assert.False(unit.Permit && memory.Unread > StaleScans + DelayScans, "permit without a link");
        Assert.False(unit.Permit && read && (!cabinet.Chain || !cabinet.Key || cabinet.Watchdog != table.WatchdogMs), "permit against chain, key or watchdog");
    }

    private static void JudgeWrites(UnitDecision unit, TestCabinet cabinet, UnitTable table, UnitMemoryOfJudge memory)
    {
        for (int role = 0; role < CommandRoles.Count; role++)
        {
            CommandDecision command = unit.Commands[role];
            bool energises = (CommandRole)role is CommandRole.Heartbeat or CommandRole.Relay or CommandRole.Enable && command.Value != 0;
            Assert.False(command.Write && table.Mode == UnitMode.Observe, "an observing unit writes");
            Assert.False(command.Write && energises && (!unit.Permit || command.DeEnergising), $"{(CommandRole)role} written without a permit");
            bool local = cabinet.Link == ReadResult.Good && !cabinet.Key;
            Assert.False(command.Write && local && !command.DeEnergising, "a write that is not de-energising on local");
        }

        // Withdrawn: every path in the same scan, whatever is read back.
        bool withdrawn = memory.PermitBefore && !unit.Permit;
        Assert.False(withdrawn && !(Removes(unit, CommandRole.Heartbeat) && Removes(unit, CommandRole.Relay) && Removes(unit, CommandRole.Enable)), "a path was left");
        JudgeBlower(unit, cabinet);
    }

    private static bool Removes(UnitDecision unit, CommandRole role) =>
        unit.Commands[(int)role] is { Write: true, DeEnergising: true, Value: 0 };

    /// <summary>Against what the cabinet has, not against what was written: a person at the cabinet may have lowered it.</summary>
    private static void JudgeBlower(UnitDecision unit, TestCabinet cabinet)
    {
        CommandDecision blower = unit.Commands[(int)CommandRole.BlowerDemand];
        bool lowers = blower.Write && blower.Value < cabinet[CommandRole.BlowerDemand] - 0.1;
        Assert.False(lowers && !unit.PowerProvedOff, "the blower was lowered before power was proved off");
    }

    private sealed class UnitMemoryOfJudge
    {
        public UnitState Before { get; set; }
        public bool PermitBefore { get; set; }
        public long PermitEvent { get; set; }
        public int Unread { get; set; }
        public int[] Standing { get; } = new int[4];

        public void Count(int danger, bool present, bool permit) => Standing[danger] = present && permit ? Standing[danger] + 1 : 0;
    }
}
