using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// Unit states × requests × conditions in full, for units that enforce and units that observe. What must be answered stands
/// here as a few plain rules; the condition appears in the very scan of the request, since trips are taken before requests.
/// A flow that was never seen at zero stands from the start of the guard and leaves only the states before the first start;
/// a unit that observes has only those, whether its heater is cold or heats by the cabinet's own doing: that no request
/// under any condition leads further is part of what is asserted.
/// </summary>
public sealed class RequestEnumerationTests
{
    private const int VerdictBlock = TestSite.BlocksPerUnit; // behind those of the cabinet

    private enum Condition
    {
        None,
        JournalFailing,
        KeyOnLocal,
        ChainOpen,
        ElementPending,
        EventsLost,
        PowerNotGood,
        OutputNotZero,
        WatchdogDiffers,
        PowerRemains,
        SettingsDiffer,
        FromAfar,
        FlowZeroNotSeen,
    }

    public enum Kind
    {
        Enforces,
        ObservesCold,
        ObservesHeating,
    }

    public static TheoryData<Kind, UnitState> States()
    {
        var states = new TheoryData<Kind, UnitState>();
        foreach (UnitState state in Enum.GetValues<UnitState>())
        {
            states.Add(Kind.Enforces, state);
        }

        foreach (Kind kind in (Kind[])[Kind.ObservesCold, Kind.ObservesHeating])
        {
            states.Add(kind, UnitState.Tripped);
            states.Add(kind, UnitState.Ready);
        }

        return states;
    }

    [Trait("requirement", "RESET-1")]
    [Trait("requirement", "LATCH-2")]
    [Trait("requirement", "FLOW-4")]
    [Trait("requirement", "OBSV-1")]
    [Theory]
    [MemberData(nameof(States))]
    public void Every_request_in_every_state_under_every_condition_gets_the_answer_of_the_reference(Kind unit, UnitState state)
    {
        foreach (RequestKind kind in Enum.GetValues<RequestKind>().Where(k => k != RequestKind.None))
        {
            foreach (Condition condition in Enum.GetValues<Condition>().Where(c => CanStand(c, state)))
            {
                Ask(unit, state, kind, condition);
            }
        }
    }

    private static void Ask(Kind unit, UnitState state, RequestKind kind, Condition condition)
    {
        TestHall hall = In(unit, state, condition);
        Set(hall, condition);
        bool names = kind is RequestKind.Bypass or RequestKind.Unbypass;
        FunctionId named = names ? FunctionId.Flow : AboutAlarm(kind) ? FunctionId.Heat : FunctionId.None;
        TestHall asked = kind == RequestKind.Force ? hall.Force(0, SignalRole.InletTemperature, 20, 5) : hall.Request(0, kind, named, kind is RequestKind.Bypass or RequestKind.Shelve ? (ushort)5 : (ushort)0);
        hall.Scan.Requests[0].Remote = condition == Condition.FromAfar;
        asked.Run();

        bool observes = unit != Kind.Enforces;
        GuardEvent answer = hall.Output.Events.Take(hall.Output.EventCount).Single(e => e.Id is EventId.RequestAccepted or EventId.RequestRefused);
        UnitState before = Trips(observes, condition, state) ? UnitState.Tripped : GivesUp(condition, state) ? UnitState.AfterCooling : state;
        RefusalReason expected = Expected(unit, kind, before, state, condition);
        string what = $"{kind} in {state} of {unit} with {condition}";
        Assert.True(expected == answer.Reason && (answer.Id == EventId.RequestAccepted) == (expected == RefusalReason.None), $"{what}: {answer.Id} {answer.Reason}, expected {expected}");
        UnitState after = expected == RefusalReason.None ? After(kind, before) : before;
        bool warmsUp = after == UnitState.Standby && condition == Condition.ElementPending;
        after = warmsUp ? UnitState.AfterCooling : after; // heat stored again
        Assert.True(after == hall[0].State, $"{what}: {hall[0].State}, expected {after}");
        Assert.True(IsPowered(after) == hall[0].Permit, $"{what}: permit {hall[0].Permit}");
        Assert.False(observes && hall[0].Commands.Any(c => c.Write), $"{what}: writes");
    }

    /// <summary>Seen once counts for the run, and without it nothing starts.</summary>
    private static bool CanStand(Condition condition, UnitState state) =>
        condition != Condition.FlowZeroNotSeen || state is UnitState.Tripped or UnitState.Ready;

    /// <summary>A key on LOCAL and a device that is set wrongly are the cabinet's own affair where the guard commands nothing.</summary>
    private static bool Trips(bool observes, Condition condition, UnitState state) =>
        condition == Condition.ChainOpen || (condition == Condition.KeyOnLocal && !observes) || (IsDeviceWrong(condition) && IsPowered(state));

    private static bool IsDeviceWrong(Condition condition) => condition is Condition.WatchdogDiffers or Condition.SettingsDiffer;

    private static bool GivesUp(Condition condition, UnitState state) => condition == Condition.EventsLost && state == UnitState.PreFlow;

    private static bool IsPowered(UnitState state) => state is UnitState.Heating or UnitState.Holding or UnitState.LedCooldown;

    private static RefusalReason Expected(Kind unit, RequestKind kind, UnitState now, UnitState was, Condition condition)
    {
        bool observes = unit != Kind.Enforces;
        bool powerIsWrong = observes ? unit == Kind.ObservesCold : !IsPowered(was); // observed: only without gas
        bool cause = condition is Condition.ChainOpen or Condition.ElementPending or Condition.PowerNotGood
            || (condition == Condition.KeyOnLocal && !observes)
            || (condition == Condition.PowerRemains && powerIsWrong) || (IsDeviceWrong(condition) && IsPowered(was));
        bool journal = condition is Condition.JournalFailing or Condition.EventsLost;
        bool notAtStart = condition is Condition.OutputNotZero or Condition.WatchdogDiffers;
        return kind switch
        {
            RequestKind.Acknowledge or RequestKind.Stop => RefusalReason.None,
            RequestKind.Reset when now != UnitState.Tripped => RefusalReason.WrongState,
            RequestKind.Reset when condition == Condition.FromAfar => RefusalReason.RemoteResetOff,
            RequestKind.Reset => cause ? RefusalReason.CauseStillPresent : RefusalReason.None,
            RequestKind.Start when observes => RefusalReason.ObserveOnly,
            RequestKind.Start when now == UnitState.Tripped => RefusalReason.NotReset,
            RequestKind.Start when now is not (UnitState.Ready or UnitState.Standby or UnitState.AfterCooling) => RefusalReason.WrongState,
            RequestKind.Start => journal ? RefusalReason.JournalNotHealthy : cause ? RefusalReason.CauseStillPresent
                : condition == Condition.FlowZeroNotSeen ? RefusalReason.FlowZeroNotSeen
                : condition == Condition.SettingsDiffer ? RefusalReason.SettingsNotAsCommissioned
                : notAtStart ? RefusalReason.NotInStartPosition : RefusalReason.None,
            RequestKind.Cool => now is UnitState.PreFlow or UnitState.Heating or UnitState.Holding ? RefusalReason.None : RefusalReason.WrongState,
            RequestKind.Bypass => journal ? RefusalReason.JournalNotHealthy : RefusalReason.None,
            RequestKind.Unbypass => RefusalReason.NotBypassed,
            RequestKind.Force => journal ? RefusalReason.JournalNotHealthy : RefusalReason.None,
            RequestKind.Unforce => RefusalReason.NotForced,
            RequestKind.Learn => RefusalReason.NothingToLearn,
            RequestKind.Shelve => journal ? RefusalReason.JournalNotHealthy : RefusalReason.None,
            RequestKind.RemoveFromService => RefusalReason.OutOfServiceOff,
            RequestKind.Unshelve or RequestKind.ReturnToService => RefusalReason.AlarmState,
            _ => now == UnitState.Tripped && was != UnitState.Tripped ? RefusalReason.None : RefusalReason.NoTrip,
        };
    }

    private static bool AboutAlarm(RequestKind kind) =>
        kind is RequestKind.Shelve or RequestKind.Unshelve or RequestKind.RemoveFromService or RequestKind.ReturnToService;

    private static UnitState After(RequestKind kind, UnitState now) => (kind, now) switch
    {
        (RequestKind.Reset, _) => UnitState.Ready,
        (RequestKind.Start, _) => UnitState.PreFlow,
        (RequestKind.Stop, UnitState.PreFlow or UnitState.Heating or UnitState.Holding or UnitState.LedCooldown) => UnitState.AfterCooling,
        (RequestKind.Cool, UnitState.PreFlow) => UnitState.AfterCooling,
        (RequestKind.Cool, _) => UnitState.LedCooldown,
        _ => now,
    };

    private static void Set(TestHall hall, Condition condition)
    {
        TestCabinet cabinet = hall.Cabinets[0];
        switch (condition)
        {
            case Condition.JournalFailing: hall.Scan.Journal = JournalHealth.Failing; break;
            case Condition.KeyOnLocal: cabinet.Key = false; break;
            case Condition.ChainOpen: cabinet.Chain = false; break;
            case Condition.ElementPending: cabinet.Element = 860; break;
            case Condition.EventsLost: hall.Scan.Journal = JournalHealth.EventsLost; break;
            case Condition.PowerNotGood: hall.BeforeStep += h => h.Scan.Blocks[1].Words[6] = 0x7FC0; break; // NaN
            case Condition.SettingsDiffer: hall.BeforeStep += h => h.Scan.Blocks[VerdictBlock].Words[0] = 0; break;
            case Condition.OutputNotZero: cabinet.Output = 30; break;
            case Condition.WatchdogDiffers: cabinet.Watchdog = 9_000; break;
            case Condition.PowerRemains: cabinet.Residual = 5; break;
            default: break;
        }
    }

    private static void Agree(ref RawBlock verdict)
    {
        (verdict.Result, verdict.AgeMs, verdict.Words[0]) = (ReadResult.Good, 20, 1);
        verdict.ReadCount++;
    }

    private static TestHall In(Kind unit, UnitState state, Condition condition)
    {
        TestHall hall = Open(unit);
        hall.BeforeStep += condition == Condition.FlowZeroNotSeen ? static h => ReadFlow(h.Scan) : null;
        if (state == UnitState.Tripped)
        {
            return hall.Run(40);
        }

        if (state is UnitState.Ready or UnitState.PreFlow or UnitState.Heating)
        {
            return hall.BringTo(0, state);
        }

        hall.BringTo(0, UnitState.Heating);
        hall.RunUntil(h => h[0].State == UnitState.Holding, 1_000);
        if (state == UnitState.Holding)
        {
            return hall;
        }

        hall.Request(0, state == UnitState.LedCooldown ? RequestKind.Cool : RequestKind.Stop).Run(40);
        if (state == UnitState.Standby)
        {
            hall.Cabinets[0].Element = 60;
            hall.Cabinets[0].Outlet = 40;
            hall.RunUntil(h => h[0].State == UnitState.Standby, 1_000);
        }

        Assert.Equal(state, hall[0].State);
        return hall;
    }

    private static TestHall Open(Kind unit)
    {
        Func<int, UnitTable> n1 = TestSite.N1(unit == Kind.Enforces ? UnitMode.Enforce : UnitMode.Observe);
        SiteTable site = TestSite.Of(i => n1(i) with { SetpointC = 300, Cool = n1(i).Cool with { RampUpKPerMin = 600 } });
        site = site with { Units = [site.Units[0] with { Flow = site.Units[0].Flow with { PreFlowMs = 1_000, HotPreFlowMs = 1_000 } }] };
        var verdict = new SignalTable { Role = SignalRole.ControllerSettings, Block = VerdictBlock, WordOffset = 0, Type = WordType.UInt16, RangeMin = 0, RangeMax = 1, StaleMs = 500, HoldMs = 5_000 };
        site = site with { BlockWordCounts = [.. site.BlockWordCounts, 1], Units = [site.Units[0] with { Signals = [.. site.Units[0].Signals, verdict] }] };
        var hall = new TestHall(site) { BeforeStep = static h => Agree(ref h.Scan.Blocks[VerdictBlock]) };
        TestCabinet cabinet = hall.Cabinets[0];
        (cabinet.Element, cabinet.Outlet) = unit == Kind.ObservesCold ? (60, 40) : (400, 280); // Hot, so that nothing moves on by itself.
        if (unit == Kind.ObservesHeating)
        {
            // The cabinet runs its own programme.
            (cabinet[CommandRole.Relay], cabinet[CommandRole.Enable], cabinet[CommandRole.Heartbeat]) = (1, 1, 1);
            (cabinet[CommandRole.Setpoint], cabinet[CommandRole.BlowerDemand]) = (300, 100);
        }

        return hall;
    }

    /// <summary>A meter that reads a flow although the blower stands.</summary>
    private static void ReadFlow(RawScan scan)
    {
        if (!WordEncoder.TryEncode(90, WordType.Float32, WordOrder.Cdab, 1, 0, scan.Blocks[2].Words, out _))
        {
            throw new InvalidOperationException("The flow does not fit.");
        }
    }
}
