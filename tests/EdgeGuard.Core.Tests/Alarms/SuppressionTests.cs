using CsCheck;
using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Tests.Interlocks;

namespace EdgeGuard.Core.Tests.Alarms;

/// <summary>
/// What the design suppresses and what it never does. The table of rules stands here once more, apart from the code: which
/// signals have to be gone for which alarm to say nothing.
/// </summary>
public sealed class SuppressionTests
{
    private const uint SensorBroken = StatusCode.BadSensorFailure;

    private static readonly uint[] LinkStatuses =
        [StatusCode.UncertainNoCommunicationLastUsableValue, StatusCode.BadNoCommunication, StatusCode.BadCommunicationError, StatusCode.BadWaitingForInitialData];

    private static readonly (FunctionId Alarm, SignalRole[] All)[] ByLink =
    [
        (FunctionId.Hard, [SignalRole.ChainHealthy]),
        (FunctionId.Flow, [SignalRole.GasFlow, SignalRole.GasFlow2, SignalRole.GasFlow3]),
        (FunctionId.Phas, [SignalRole.CurrentL1, SignalRole.CurrentL2, SignalRole.CurrentL3]),
        (FunctionId.Leak, [SignalRole.EarthLeakage, SignalRole.Insulation]),
        (FunctionId.Cmdv, [SignalRole.KeySupervised, SignalRole.WatchdogAlive, SignalRole.WatchdogTime, SignalRole.Heartbeat, SignalRole.Relay, SignalRole.Enable, SignalRole.ManualMode, SignalRole.ManualOutput, SignalRole.RemoteSetpoint, SignalRole.BlowerDemand, SignalRole.OutputLimit]),
    ];

    private static readonly SignalRole[] Sensors =
    [
        SignalRole.ElementTemperature, SignalRole.ElementTemperature2, SignalRole.ElementTemperature3, SignalRole.OutletTemperature, SignalRole.OutletTemperature2,
        SignalRole.OutletTemperature3, SignalRole.GasFlow, SignalRole.GasFlow2, SignalRole.GasFlow3, SignalRole.Power,
    ];

    [Fact]
    public void Which_alarms_can_be_suppressed_at_all()
    {
        FunctionId[] byLink = [.. Enum.GetValues<FunctionId>().Where(f => SuppressionRules.Of(f) == AlarmSuppression.LinkLost)];
        Assert.Equal([FunctionId.Hard, FunctionId.Flow, FunctionId.Sens, FunctionId.Cmdv, FunctionId.Phas, FunctionId.Leak], byLink.Order());
        Assert.Equal([FunctionId.Cool], Enum.GetValues<FunctionId>().Where(f => SuppressionRules.Of(f) == AlarmSuppression.ForcedByTrip));
    }

    // Each signal of each alarm in turn good, broken or lost in each of four ways, all others lost: one that is read, or bad
    // for a reason of its own, is enough for the alarm to be heard.
    [Trait("requirement", "ALRM-3")]
    [Fact]
    public void One_signal_that_is_not_lost_with_the_link_lets_the_alarm_be_heard()
    {
        int cases = 0;
        foreach ((FunctionId alarm, SignalRole[] roles) in ByLink)
        {
            foreach (SignalRole role in roles)
            {
                foreach (uint status in (uint[])[StatusCode.Good, SensorBroken, StatusCode.BadConfigurationError, StatusCode.Bad, .. LinkStatuses])
                {
                    var rig = new AlarmRig();
                    rig.Lose(roles);
                    rig.Set(role, status);
                    rig.Step(alarm, alarm == FunctionId.Cmdv ? Finding.NotReadable : Finding.None);
                    Assert.True(rig.IsSuppressed(alarm) == LinkStatuses.Contains(status), $"{alarm} with {role} {status:x8}");
                    cases++;
                }
            }
        }

        Assert.Equal((1 + 3 + 3 + 2 + 11) * 8, cases);
    }

    // Of the sensors any may still be good, since SENS tells of those that are not.
    [Trait("requirement", "ALRM-3")]
    [Fact]
    public void Sens_says_nothing_only_while_every_sensor_that_is_not_good_is_lost_with_the_link()
    {
        foreach (SignalRole role in Sensors)
        {
            foreach (SignalRole other in Sensors)
            {
                foreach (uint status in (uint[])[StatusCode.Good, SensorBroken, .. LinkStatuses])
                {
                    var rig = new AlarmRig();
                    rig.Lose(role);
                    rig.Set(other, status);
                    rig.Step(FunctionId.Sens);
                    bool lost = LinkStatuses.Contains(status);
                    bool expected = role == other ? lost : lost || status == StatusCode.Good;
                    Assert.True(rig.IsSuppressed(FunctionId.Sens) == expected, $"{role} lost, {other} {status:x8}");
                }
            }
        }
    }

    [Trait("requirement", "ALRM-3")]
    [Theory]
    [InlineData(FunctionId.Sens, Finding.None, true)]
    [InlineData(FunctionId.Sens, Finding.RedundantSensorLost, true)]
    [InlineData(FunctionId.Sens, Finding.Frozen, false)]
    [InlineData(FunctionId.Sens, Finding.ForbiddenSlope, false)]
    [InlineData(FunctionId.Sens, Finding.SensorsDiffer, false)]
    [InlineData(FunctionId.Sens, Finding.Forced, false)] // what a forced value is told by is no consequence
    [InlineData(FunctionId.Flow, Finding.Forced, false)]
    [InlineData(FunctionId.Cmdv, Finding.NotReadable, true)]
    [InlineData(FunctionId.Cmdv, Finding.None, false)]
    [InlineData(FunctionId.Cmdv, Finding.KeyLocal, false)]
    [InlineData(FunctionId.Cmdv, Finding.SecondWriter, false)]
    [InlineData(FunctionId.Cmdv, Finding.DeviceSettings, false)]
    [InlineData(FunctionId.Cmdv, Finding.TakenAway, false)]
    [InlineData(FunctionId.Cmdv, Finding.WatchdogDropped, false)]
    public void Another_finding_is_heard(FunctionId alarm, Finding finding, bool suppressed)
    {
        var rig = new AlarmRig();
        rig.Lose(AlarmRig.Every);
        rig.Step(alarm, finding);
        Assert.Equal(suppressed, rig.IsSuppressed(alarm));
    }

    // Who tells instead must tell: COMM stands or its limit runs, and nobody has hidden it.
    [Trait("requirement", "ALRM-3")]
    [Theory]
    [InlineData(FunctionState.Demand, AlarmState.Unacknowledged, true)]
    [InlineData(FunctionState.Pending, AlarmState.Normal, true)]
    [InlineData(FunctionState.Healthy, AlarmState.Normal, false)]
    [InlineData(FunctionState.NotGood, AlarmState.Normal, false)]
    [InlineData(FunctionState.Demand, AlarmState.Shelved, false)]
    [InlineData(FunctionState.Demand, AlarmState.OutOfService, false)]
    public void A_lost_link_suppresses_only_while_comm_tells_of_it(FunctionState comm, AlarmState shown, bool suppressed)
    {
        var rig = new AlarmRig();
        rig.Hide(FunctionId.Comm, shown);
        rig.Lose(AlarmRig.Every);
        rig.Comm = comm;
        rig.Step(FunctionId.Flow);
        Assert.Equal(suppressed, rig.IsSuppressed(FunctionId.Flow));
    }

    [Trait("requirement", "ALRM-3")]
    [Fact]
    public void The_first_cause_of_a_trip_is_never_suppressed()
    {
        foreach ((FunctionId alarm, _) in ByLink)
        {
            var rig = new AlarmRig();
            rig.Lose(AlarmRig.Every);
            rig.Trip(alarm);
            rig.Step(alarm, alarm == FunctionId.Cmdv ? Finding.NotReadable : Finding.None);
            Assert.False(rig.IsSuppressed(alarm), alarm.ToString());
            Assert.Equal(AlarmState.Unacknowledged, rig.Decision.Alarms[(int)alarm].State);
        }
    }

    // FLOW was told as low; then the link goes. What people know already is not taken from them.
    [Trait("requirement", "ALRM-3")]
    [Fact]
    public void What_was_told_before_the_link_was_lost_stays_told()
    {
        var rig = new AlarmRig();
        rig.Comm = FunctionState.Healthy;
        rig.Step(FunctionId.Flow);
        Assert.Equal(AlarmState.Unacknowledged, rig.Decision.Alarms[(int)FunctionId.Flow].State);
        rig.Lose(AlarmRig.Every);
        rig.Comm = FunctionState.Demand;
        rig.Step(FunctionId.Flow);
        Assert.Equal(AlarmState.Unacknowledged, rig.Decision.Alarms[(int)FunctionId.Flow].State);
    }

    [Trait("requirement", "ALRM-3")]
    [Theory]
    [InlineData(UnitMode.Enforce, FunctionId.Flow, AlarmState.Unacknowledged, true)]
    [InlineData(UnitMode.Enforce, FunctionId.Cool, AlarmState.Unacknowledged, false)]
    [InlineData(UnitMode.Enforce, FunctionId.Start, AlarmState.Normal, false)]
    [InlineData(UnitMode.Enforce, FunctionId.None, AlarmState.Normal, false)]
    [InlineData(UnitMode.Observe, FunctionId.Flow, AlarmState.Unacknowledged, false)]
    [InlineData(UnitMode.Enforce, FunctionId.Flow, AlarmState.Shelved, false)]
    public void Fast_cooling_is_silent_only_while_an_enforced_trip_is_told(UnitMode mode, FunctionId firstOut, AlarmState trip, bool suppressed)
    {
        var rig = new AlarmRig(mode);
        rig.Hide(AlarmIds.Trip, trip);
        if (firstOut != FunctionId.None)
        {
            rig.Trip(firstOut);
        }

        rig.Step(FunctionId.Cool);
        Assert.Equal(suppressed, rig.IsSuppressed(FunctionId.Cool));
    }

    // Independent causes while a unit is tripped, each of them alone: heard. The reverse of what a rule "all is quiet while tripped" would do.
    [Trait("requirement", "ALRM-3")]
    [Fact]
    public void While_tripped_every_alarm_whose_signals_are_read_is_heard_but_fast_cooling()
    {
        for (int id = 1; id < FunctionIds.Count; id++)
        {
            var alarm = (FunctionId)id;
            var rig = new AlarmRig();
            rig.Trip(FunctionId.Nors);
            rig.Step(FunctionId.None);
            rig.Step(alarm);
            bool silent = alarm == FunctionId.Cool || !AlarmIds.Exists(alarm);
            Assert.True((rig.Decision.Alarms[id].State == AlarmState.Unacknowledged) == !silent, alarm.ToString());
        }
    }

    // More events than a unit may raise would trip it: what does not fit is told in the next scan.
    [Trait("requirement", "ALRM-6")]
    [Fact]
    public void An_alarm_that_finds_no_room_for_its_event_waits_with_it_and_breaks_nothing()
    {
        var rig = new AlarmRig { FullSink = true };
        rig.Lose(AlarmRig.Every);
        rig.Step(FunctionId.Flow);
        Assert.Equal((true, 0), (rig.IsSuppressed(FunctionId.Flow), rig.Count(EventId.AlarmSuppressed)));
        rig.FullSink = false;
        rig.Step(FunctionId.Flow);
        Assert.Equal((true, 1), (rig.IsSuppressed(FunctionId.Flow), rig.Count(EventId.AlarmSuppressed)));
    }

    // In any life: what is suppressed is told by its cause, is recorded while its condition stands, and is shown again when it outlasts the cause.
    [Trait("requirement", "ALRM-7")]
    [Fact]
    public void In_any_life_what_is_suppressed_has_a_cause_that_is_told_is_recorded_and_comes_back()
    {
        int suppressed = 0, cameBack = 0;
        HallScript.Gen(requests: true).Sample(
            script =>
            {
                SiteTable site = HallScript.Site();
                var hall = new TestHall(site);
                bool[,] told = new bool[site.Units.Count, FunctionIds.Count];
                bool[,] before = new bool[site.Units.Count, FunctionIds.Count];
                hall.AfterStep = h =>
                {
                    for (int i = 0; i < h.Output.EventCount; i++)
                    {
                        ref GuardEvent e = ref h.Output.Events[i];
                        if (e.Id is EventId.AlarmSuppressed or EventId.AlarmSuppressionEnded)
                        {
                            told[e.Unit, (int)e.Function] = e.Id == EventId.AlarmSuppressed;
                        }
                    }

                    for (int unit = 0; unit < site.Units.Count; unit++)
                    {
                        for (int id = 0; id < FunctionIds.Count; id++)
                        {
                            (bool now, bool back) = Judge(h[unit], (FunctionId)id, h.Cabinets[unit], before[unit, id]);
                            Assert.True(now == told[unit, id], $"{(FunctionId)id} is suppressed {now}, recorded {told[unit, id]}");
                            suppressed += now ? 1 : 0;
                            cameBack += back ? 1 : 0;
                            before[unit, id] = now;
                        }
                    }
                };
                hall.BringTo(0, UnitState.Heating);
                script.Live(hall);
            },
            iter: 300,
            threads: 1);
        Assert.True(suppressed > 5_000, "hardly anything was suppressed");
        Assert.True(cameBack > 5, $"hardly anything came back: {cameBack}");
    }

    private static (bool Now, bool CameBack) Judge(UnitDecision unit, FunctionId alarm, TestCabinet cabinet, bool before)
    {
        ref AlarmPointStatus status = ref unit.Alarms[(int)alarm];
        bool now = status is { State: AlarmState.SuppressedByDesign, Condition: true };
        bool back = before && !now && status.Condition;
        Assert.False(back && status.State != AlarmState.Unacknowledged, $"{alarm} outlasted its cause and is {status.State}");
        if (!now)
        {
            return (false, back);
        }

        Assert.NotEqual(AlarmIds.Trip, alarm);
        Assert.False(unit.State == UnitState.Tripped && unit.FirstOut == alarm, $"{alarm} is the first cause and hidden");
        if (status.Suppression == AlarmSuppression.LinkLost)
        {
            // What the cabinet knows: its link is down, so nothing independent can have been read.
            Assert.NotEqual(ReadResult.Good, cabinet.Link);
            Assert.True(unit.Functions[(int)FunctionId.Comm].State is FunctionState.Demand or FunctionState.Pending);
        }
        else
        {
            Assert.Equal(AlarmSuppression.ForcedByTrip, status.Suppression);
            Assert.True(unit.State == UnitState.Tripped && AlarmDiagram.IsOpen(unit.Alarms[(int)AlarmIds.Trip].State) && unit.Alarms[(int)AlarmIds.Trip].State != AlarmState.Normal);
        }

        return (true, false);
    }
}
