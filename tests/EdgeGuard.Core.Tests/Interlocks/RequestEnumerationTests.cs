using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// Unit states × requests × conditions in full. What must be answered stands here as a few plain rules; the condition
/// appears in the very scan of the request, since trips are taken before requests.
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
    }

    public static TheoryData<UnitState> States() => [.. Enum.GetValues<UnitState>()];

    [Trait("requirement", "RESET-1")]
    [Trait("requirement", "LATCH-2")]
    [Theory]
    [MemberData(nameof(States))]
    public void Every_request_in_every_state_under_every_condition_gets_the_answer_of_the_reference(UnitState state)
    {
        foreach (RequestKind kind in Enum.GetValues<RequestKind>().Where(k => k != RequestKind.None))
        {
            foreach (Condition condition in Enum.GetValues<Condition>())
            {
                TestHall hall = In(state);
                Set(hall, condition);
                bool names = kind is RequestKind.Bypass or RequestKind.Unbypass;
                FunctionId named = names ? FunctionId.Flow : AboutAlarm(kind) ? FunctionId.Heat : FunctionId.None;
                TestHall asked = kind == RequestKind.Force ? hall.Force(0, SignalRole.InletTemperature, 20, 5) : hall.Request(0, kind, named, kind is RequestKind.Bypass or RequestKind.Shelve ? (ushort)5 : (ushort)0);
                hall.Scan.Requests[0].Remote = condition == Condition.FromAfar;
                asked.Run();

                GuardEvent answer = hall.Output.Events.Take(hall.Output.EventCount).Single(e => e.Id is EventId.RequestAccepted or EventId.RequestRefused);
                UnitState before = Trips(condition, state) ? UnitState.Tripped : GivesUp(condition, state) ? UnitState.AfterCooling : state;
                RefusalReason expected = Expected(kind, before, state, condition);
                string what = $"{kind} in {state} with {condition}";
                Assert.True(expected == answer.Reason && (answer.Id == EventId.RequestAccepted) == (expected == RefusalReason.None), $"{what}: {answer.Id} {answer.Reason}, expected {expected}");
                UnitState after = expected == RefusalReason.None ? After(kind, before) : before;
                bool warmsUp = after == UnitState.Standby && condition == Condition.ElementPending;
                after = warmsUp ? UnitState.AfterCooling : after; // heat stored again
                Assert.True(after == hall[0].State, $"{what}: {hall[0].State}, expected {after}");
                Assert.True(IsPowered(after) == hall[0].Permit, $"{what}: permit {hall[0].Permit}");
            }
        }
    }

    private static bool Trips(Condition condition, UnitState state) =>
        condition is Condition.KeyOnLocal or Condition.ChainOpen || (IsDeviceWrong(condition) && IsPowered(state));

    private static bool IsDeviceWrong(Condition condition) => condition is Condition.WatchdogDiffers or Condition.SettingsDiffer;

    private static bool GivesUp(Condition condition, UnitState state) => condition == Condition.EventsLost && state == UnitState.PreFlow;

    private static bool IsPowered(UnitState state) => state is UnitState.Heating or UnitState.Holding or UnitState.LedCooldown;

    private static RefusalReason Expected(RequestKind kind, UnitState now, UnitState was, Condition condition)
    {
        bool cause = condition is Condition.KeyOnLocal or Condition.ChainOpen or Condition.ElementPending or Condition.PowerNotGood
            || (condition == Condition.PowerRemains && !IsPowered(was)) || (IsDeviceWrong(condition) && IsPowered(was));
        bool journal = condition is Condition.JournalFailing or Condition.EventsLost;
        bool notAtStart = condition is Condition.OutputNotZero or Condition.WatchdogDiffers;
        return kind switch
        {
            RequestKind.Acknowledge or RequestKind.Stop => RefusalReason.None,
            RequestKind.Reset when now != UnitState.Tripped => RefusalReason.WrongState,
            RequestKind.Reset when condition == Condition.FromAfar => RefusalReason.RemoteResetOff,
            RequestKind.Reset => cause ? RefusalReason.CauseStillPresent : RefusalReason.None,
            RequestKind.Start when now == UnitState.Tripped => RefusalReason.NotReset,
            RequestKind.Start when now is not (UnitState.Ready or UnitState.Standby or UnitState.AfterCooling) => RefusalReason.WrongState,
            RequestKind.Start => journal ? RefusalReason.JournalNotHealthy : cause ? RefusalReason.CauseStillPresent
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

    private static TestHall In(UnitState state)
    {
        SiteTable site = TestSite.Of(i => TestSite.N1()(i) with { SetpointC = 300, Cool = TestSite.N1()(i).Cool with { RampUpKPerMin = 600 } });
        site = site with { Units = [site.Units[0] with { Flow = site.Units[0].Flow with { PreFlowMs = 1_000, HotPreFlowMs = 1_000 } }] };
        var verdict = new SignalTable { Role = SignalRole.ControllerSettings, Block = VerdictBlock, WordOffset = 0, Type = WordType.UInt16, RangeMin = 0, RangeMax = 1, StaleMs = 500, HoldMs = 5_000 };
        site = site with { BlockWordCounts = [.. site.BlockWordCounts, 1], Units = [site.Units[0] with { Signals = [.. site.Units[0].Signals, verdict] }] };
        var hall = new TestHall(site) { BeforeStep = static h => Agree(ref h.Scan.Blocks[VerdictBlock]) };
        hall.Cabinets[0].Element = 400; // Hot, so that nothing moves on by itself.
        hall.Cabinets[0].Outlet = 280;
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
}
