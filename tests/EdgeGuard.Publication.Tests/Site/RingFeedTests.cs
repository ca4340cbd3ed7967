using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.Publication.Site;
using EdgeGuard.Publication.Tests.Rigs;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Ring;
using CoreStatus = EdgeGuard.Core.Signals.StatusCode;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Tests.Site;

/// <summary>From the ring to the nodes; points 14 and 15 of what independent clients trip over: stamps and staging of a lost link.</summary>
public sealed partial class RingFeedTests : IDisposable
{
    private const long NowUnixMs = 1_772_000_000_000;
    private readonly RingRig _ring = new() { ScanCapacity = 16 };
    private readonly NodeSpace _space = new(UaDateTime.FromUnixMs(NowUnixMs - 60_000));
    private readonly ListLog _log = new();
    private readonly SiteNodes _nodes;
    private readonly RingFeed _feed;
    private long _nowMs = 5_000;
    private int _updates;

    public RingFeedTests()
    {
        StandardNodes.Load(_space);
        _nodes = new SiteSpaceBuilder(new SpaceBuilder(_space), RingRig.Site, RingRig.LinkNames, new Dictionary<string, ProofTestFacts>(StringComparer.Ordinal)).Build();
        _feed = new RingFeed(
            new FeedOptions { Site = RingRig.Site, LinkNames = RingRig.LinkNames, SiteDigest = RingRig.Digest, RingPath = _ring.RingPath, JournalHeadPath = _ring.HeadPath, LateMs = 1_000, LostMs = 10_000, Log = _log }, _nodes, _nowMs);
    }

    [Fact]
    public void Point_14_the_source_stamp_is_the_moment_of_the_reading()
    {
        _ring.Start();
        _ring.SetSignal(0, SignalRole.OutletTemperature, 333.5, ageMs: 70);
        _ring.Scan(NowUnixMs - 200);
        Poll();
        DataValue value = Value("N-1/OutletTemperature");
        Assert.Equal((333.5, StatusCode.Good, UaDateTime.FromUnixMs(NowUnixMs - 270)), (value.Value.AsDouble, value.Status, value.SourceTimestamp));
    }

    [Fact]
    public void Point_14_simulated_time_ahead_of_the_clock_is_never_told()
    {
        _ring.Start();
        _ring.Scan(NowUnixMs + 3_600_000);
        Poll();
        Assert.Equal(UaDateTime.FromUnixMs(NowUnixMs), Value("N-1/OutletTemperature").SourceTimestamp);
        Assert.Equal(UaDateTime.FromUnixMs(NowUnixMs), Value("N-1/State").SourceTimestamp);
    }

    [Trait("requirement", "PUBL-2")]
    [Fact]
    public void Point_15_a_lost_link_goes_from_last_usable_value_with_its_stamp_to_no_communication_without_a_value()
    {
        _ring.Start();
        _ring.SetSignal(0, SignalRole.OutletTemperature, 333.5, CoreStatus.UncertainNoCommunicationLastUsableValue, ageMs: 1_500);
        _ring.Scan(NowUnixMs);
        Poll();
        DataValue late = Value("N-1/OutletTemperature");
        Assert.Equal((333.5, StatusCode.UncertainNoCommunicationLastUsableValue, UaDateTime.FromUnixMs(NowUnixMs - 1_500)), (late.Value.AsDouble, late.Status, late.SourceTimestamp));
        _ring.SetSignal(0, SignalRole.OutletTemperature, 0, CoreStatus.BadNoCommunication, ageMs: 6_000);
        _ring.Scan(NowUnixMs - 50);
        _ring.Scan(NowUnixMs - 20);
        Poll();
        DataValue lost = Value("N-1/OutletTemperature");
        Assert.Equal((true, StatusCode.BadNoCommunication, UaDateTime.FromUnixMs(NowUnixMs - 50)), (lost.Value.IsNull, lost.Status, lost.SourceTimestamp));
    }

    [Fact]
    public void Point_15_a_guard_that_falls_silent_is_staged_in_the_same_way()
    {
        _ring.Start();
        _ring.SetSignal(0, SignalRole.OutletTemperature, 333.5, ageMs: 70);
        _ring.SetSignal(0, SignalRole.GasFlow, 0, CoreStatus.BadSensorFailure);
        _ring.Scan(NowUnixMs - 200);
        Poll();
        Assert.Equal(GuardLink.Live, _feed.Link);
        Poll(1_100);
        Assert.Equal(GuardLink.Late, _feed.Link);
        DataValue late = Value("N-1/OutletTemperature");
        Assert.Equal((333.5, StatusCode.UncertainNoCommunicationLastUsableValue, UaDateTime.FromUnixMs(NowUnixMs - 270)), (late.Value.AsDouble, late.Status, late.SourceTimestamp));
        Assert.Equal(StatusCode.BadSensorFailure, Value("N-1/GasFlow").Status);
        Assert.Equal(StatusCode.UncertainNoCommunicationLastUsableValue, Value("N-1/State").Status);
        int before = _updates;
        Poll(10_000);
        Assert.Equal(GuardLink.Lost, _feed.Link);
        Assert.True(_updates > before);
        Assert.Equal((true, StatusCode.BadNoCommunication), (Value("N-1/OutletTemperature").Value.IsNull, Value("N-1/OutletTemperature").Status));
        _ring.Scan(NowUnixMs);
        Poll();
        Assert.Equal((GuardLink.Live, StatusCode.Good), (_feed.Link, Value("N-1/OutletTemperature").Status));
    }

    [Fact]
    public void Point_15_not_connected_is_what_was_never_configured_and_such_a_signal_has_no_node()
    {
        Assert.Null(_space.Find(new NodeId(2, "N-1/Power")));
        Assert.NotNull(_space.Find(new NodeId(2, "N-1/GasFlow")));
    }

    [Fact]
    public void Each_scan_is_taken_in_order_and_told_of()
    {
        _ring.Start();
        _ring.Scan(NowUnixMs);
        Poll();
        _updates = 0;
        for (int i = 0; i < 10; i++)
        {
            _ring.Scan(NowUnixMs);
        }

        Assert.Equal(10, Poll());
        Assert.Equal(10, _updates);
        Assert.Equal(0, _feed.RecordsLost);
    }

    [Fact]
    public void What_the_ring_has_overwritten_is_counted_and_the_newest_is_taken()
    {
        _ring.Start();
        _ring.Scan(NowUnixMs);
        Poll();
        for (int i = 0; i < 40; i++)
        {
            _ring.SetSignal(0, SignalRole.GasFlow, i);
            _ring.Scan(NowUnixMs);
        }

        Poll();
        Assert.True(_feed.RecordsLost >= 24, $"{_feed.RecordsLost}");
        Assert.Equal(39.0, Value("N-1/GasFlow").Value.AsDouble);
        Assert.Equal(_feed.RecordsLost, Value("/guard/RecordsLost").Value.AsInteger);
    }

    [Fact]
    public void A_guard_that_was_started_again_is_followed()
    {
        _ring.Start("run-1");
        _ring.Scan(NowUnixMs);
        Poll();
        Assert.Equal("run-1", Value("/guard/RunId").Value.AsString);
        _ring.Start("run-2");
        _ring.SetSignal(0, SignalRole.GasFlow, 77);
        _ring.Scan(NowUnixMs);
        Poll(1_100);
        Poll(300);
        Assert.Equal(("run-2", 77.0), (Value("/guard/RunId").Value.AsString, Value("N-1/GasFlow").Value.AsDouble));
    }

    [Fact]
    public void A_ring_of_other_units_is_not_published_and_the_log_says_why()
    {
        _ring.Start("run-1", RingRig.Site with { Units = [.. RingRig.Site.Units.Reverse()] });
        _ring.Scan(NowUnixMs);
        Poll();
        Poll(300);
        Assert.Equal(StatusCode.BadWaitingForInitialData, Value("N-1/State").Status);
        Assert.Single(_log.Lines, static l => l.Contains("other units (A-1, N-1)", StringComparison.Ordinal));
    }

    [Fact]
    public void A_ring_of_other_links_is_not_published_and_the_log_says_why()
    {
        _ring.Start("run-1", links: ["N-1 cabinet"]);
        _ring.Scan(NowUnixMs);
        Poll();
        Poll(300);
        Assert.Equal(StatusCode.BadWaitingForInitialData, Value("N-1/State").Status);
        Assert.Single(_log.Lines, static l => l.Contains("other links (N-1 cabinet) than the site file has now (N-1 cabinet, A-1 cabinet)", StringComparison.Ordinal));
    }

    [Fact]
    public void A_ring_of_another_version_is_not_published_and_the_log_says_why()
    {
        _ring.Start();
        _ring.Scan(NowUnixMs);
        _ring.SetVersion(9);
        Poll();
        Poll(300);
        Assert.Equal(StatusCode.BadWaitingForInitialData, Value("N-1/State").Status);
        Assert.Single(_log.Lines, static l => l.Contains("version 9", StringComparison.Ordinal));
    }

    [Fact]
    public void Each_figure_of_a_link_has_its_node_and_grows_old_with_the_guard()
    {
        _ring.Start();
        foreach (LinkFigure figure in Enum.GetValues<LinkFigure>())
        {
            _ring.Links[1][figure] = figure == LinkFigure.State ? 1 : 1_000 + (int)figure;
        }

        _ring.Scan(NowUnixMs - 200);
        Poll();
        foreach (LinkFigure figure in Enum.GetValues<LinkFigure>())
        {
            Variant value = Value($"/links/A-1 cabinet/{figure}").Value;
            Variant expected = figure switch
            {
                LinkFigure.State => new Variant(true),
                LinkFigure.RoundTripLast or LinkFigure.RoundTripMax => new Variant((1_000 + (int)figure) / 1000.0),
                _ => new Variant(1_000UL + (ulong)figure),
            };
            Assert.Equal((figure, expected), (figure, value));
        }

        Assert.Equal(UaDateTime.FromUnixMs(NowUnixMs - 200), Value("/links/A-1 cabinet/Requests").SourceTimestamp);

        // Nothing was answered on the other one: no round trip, rather than one of 0 ms.
        Assert.Equal((false, 0L, StatusCode.BadNoData), (Value("/links/N-1 cabinet/State").Value.AsBoolean, Value("/links/N-1 cabinet/Requests").Value.AsInteger, Value("/links/N-1 cabinet/RoundTripLast").Status));
        Poll(1_100);
        Assert.Equal(StatusCode.UncertainNoCommunicationLastUsableValue, Value("/links/A-1 cabinet/Timeouts").Status);
        Poll(10_000);
        Assert.Equal(StatusCode.BadNoCommunication, Value("/links/A-1 cabinet/Timeouts").Status);
    }

    [Fact]
    public void Interlocks_states_and_what_is_unknown_are_told_apart()
    {
        _ring.Start();
        UnitDecision decision = _ring.Output.Units[0];
        (decision.State, decision.FirstOut, decision.Permit, decision.LedSetpointC, decision.ElementSlopeKPerMin) = (UnitState.Heating, FunctionId.Flow, true, 412.5, double.NaN);
        decision.Functions[(int)FunctionId.Flow] = new FunctionStatus { State = FunctionState.Alarm, Value = 90, Limit = 86, SinceScan = 3 };
        (decision.LastTrip, decision.LastTripClass, decision.ResetsTooOften) = (FunctionId.Elem, TripClass.Spurious, true);
        decision.Counts[(int)FunctionId.Flow] = new FunctionCounts { Demands = 5, Trips = 4, BypassedDemands = 3, SpuriousTrips = 2, ForcedDemands = 1 };
        decision.Functions[(int)FunctionId.Nors] = new FunctionStatus { State = FunctionState.Idle, Value = double.NaN, Limit = double.PositiveInfinity };
        _ring.Scan(NowUnixMs);
        Poll();
        Assert.Equal((3L, 3L, true, 412.5), (Value("N-1/State").Value.AsInteger, Value("N-1/FirstOut").Value.AsInteger, Value("N-1/Permit").Value.AsBoolean, Value("N-1/LedSetpoint").Value.AsDouble));
        Assert.Equal(StatusCode.BadNoData, Value("N-1/ElementSlope").Status);
        Assert.Equal((3L, 90.0, 86.0), (Value("N-1/FLOW/State").Value.AsInteger, Value("N-1/FLOW/Value").Value.AsDouble, Value("N-1/FLOW/Limit").Value.AsDouble));
        Assert.Equal((5L, 4L, 3L, 2L), (Value("N-1/FLOW/Demands").Value.AsInteger, Value("N-1/FLOW/Trips").Value.AsInteger, Value("N-1/FLOW/BypassedDemands").Value.AsInteger, Value("N-1/FLOW/SpuriousTrips").Value.AsInteger));
        Assert.Equal(1L, Value("N-1/FLOW/ForcedDemands").Value.AsInteger);
        Assert.Equal(((long)FunctionId.Elem, 2L, true), (Value("N-1/LastTrip").Value.AsInteger, Value("N-1/LastTripClass").Value.AsInteger, Value("N-1/ResetsTooOften").Value.AsBoolean));
        Assert.Equal((StatusCode.BadNoData, StatusCode.Good), (Value("N-1/NORS/Value").Status, Value("N-1/NORS/Limit").Status));
    }

    [Fact]
    public void Use_alarms_and_the_time_left_have_their_nodes()
    {
        _ring.Start();
        var use = new ScanRingUse
        {
            EnergyKwh = 1.5,
            PoweredHours = 2.5,
            ContactorClosings = 3.5,
            OpeningsUnderPower = 4.5,
            LedCycles = 5.5,
            ForcedCycles = 6.5,
            DeepestLedK = 7.5,
            DeepestForcedK = 8.5,
            FastestRiseKPerMin = 9.5,
            FastestLedFallKPerMin = 10.5,
            FastestForcedFallKPerMin = 11.5,
            LedExcessSeconds = 12.5,
            ForcedExcessSeconds = 13.5,
            LossWattsPerK = 14.5,
            LossBlocks = 15.5,
            NoiseElementK = 16.5,
            NoiseOutletK = 17.5,
            NoiseFlowKgPerHour = 18.5,
            FirstLegPercent = 19.5,
            SecondLegPercent = 20.5,
            ThirdLegPercent = 21.5,
            LegReadings = 22.5,
            LegPercentPerYear = 23.5,
            LegWarnUtcMs = double.NaN,
            SinceUtcMs = NowUnixMs - 86_400_000,
        };
        _ring.Use(use);
        _ring.Alarm(FunctionId.None, new AlarmPointStatus { State = AlarmState.Acknowledged });
        _ring.Alarm(FunctionId.Flow, new AlarmPointStatus { State = AlarmState.ReturnedUnacknowledged });
        _ring.Alarm(FunctionId.Elem, new AlarmPointStatus { State = AlarmState.SuppressedByDesign });
        _ring.Band(3, 99.5);
        _ring.Live = new ScanRingLive { AlarmsTotal = 1, AlarmsInTenMinutes = 2, AlarmsMostInTenMinutes = 3, AlarmsAverageInTenMinutes = double.NaN, AlarmFlood = true, AlarmFloods = 6, AlarmFloodPercent = 7.5, AlarmsHigh = 8, AlarmsMedium = 9, AlarmsLow = 10, AlarmsStanding = 11, AlarmsUnacknowledged = 12, AlarmsShelved = 13, AlarmsSuppressed = 14, AlarmsOutOfService = 15, AlarmsChattering = 16, AlarmsStale = 17 };
        UnitDecision decision = _ring.Output.Units[0];
        (decision.State, decision.LedSetpointC) = (UnitState.Heating, 400);
        _ring.Scan(NowUnixMs);
        Poll();
        string[] names = ["Energy", "PoweredTime", "ContactorClosings", "OpeningsUnderPower", "LedCycles", "ForcedCycles", "DeepestLedFall", "DeepestForcedFall", "FastestRise", "FastestLedFall", "FastestForcedFall", "LedExcess", "ForcedExcess", "LearntLoss", "LearntLossBlocks", "NoiseElement", "NoiseOutlet", "NoiseFlow", "FirstLeg", "SecondLeg", "ThirdLeg", "LegReadings", "LegRisePerYear"];
        Assert.Equal(Enumerable.Range(1, 23).Select(static i => i + 0.5), names.Select(name => Value("N-1/use/" + name).Value.AsDouble));
        Assert.Equal((UaDateTime.FromUnixMs(NowUnixMs - 86_400_000), 99.5), (Value("N-1/use/CountedSince").Value.AsDateTime, Value("N-1/use/From900C").Value.AsDouble));
        Assert.Equal(StatusCode.BadNoData, Value("N-1/use/LegWarning").Status);
        Assert.Equal((2L, 3L, 7L), (Value("N-1/TripAlarm").Value.AsInteger, Value("N-1/FLOW/Alarm").Value.AsInteger, Value("N-1/ELEM/Alarm").Value.AsInteger));
        Assert.Equal((1L, 2L, 3L, true, 6L, 7.5), (Value("/alarms/Total").Value.AsInteger, Value("/alarms/InTenMinutes").Value.AsInteger, Value("/alarms/MostInTenMinutes").Value.AsInteger, Value("/alarms/Flood").Value.AsBoolean, Value("/alarms/Floods").Value.AsInteger, Value("/alarms/FloodTime").Value.AsDouble));
        Assert.Equal(StatusCode.BadNoData, Value("/alarms/AverageInTenMinutes").Status);
        Assert.Equal(((long)AlarmLoad.VeryLikelyUnacceptable, (long)UpsetLoad.Manageable), (Value("/alarms/Load").Value.AsInteger, Value("/alarms/UpsetLoad").Value.AsInteger));
        string[] counts = ["High", "Medium", "Low", "Standing", "Unacknowledged", "Shelved", "Suppressed", "OutOfService", "Chattering", "Stale"];
        Assert.Equal(Enumerable.Range(8, 10).Select(static i => (long)i), counts.Select(name => Value("/alarms/" + name).Value.AsInteger));

        // From 400 to 700 °C at 30 K/min: ten minutes. Held by the supply it takes nobody knows how long.
        Assert.Equal(600.0, Value("N-1/TimeLeft").Value.AsDouble);
        decision.RampHeld = true;
        _ring.Scan(NowUnixMs);
        Poll();
        Assert.Equal(StatusCode.BadNoData, Value("N-1/TimeLeft").Status);
    }

    [Fact]
    public void A_bypass_tells_who_and_until_when_without_wavering_and_ends()
    {
        _ring.Start();
        _ring.Scan(NowUnixMs - 5_000);
        Poll();
        Assert.Equal((false, StatusCode.BadNoData, StatusCode.BadNoData), (Value("N-1/FLOW/Bypassed").Value.AsBoolean, Value("N-1/FLOW/BypassedBy").Status, Value("N-1/FLOW/BypassedUntil").Status));
        _ring.Bypass(FunctionId.Flow, "Ines, anna over OPC UA", 600);
        _ring.Scan(NowUnixMs - 4_000);
        Poll();
        Assert.Equal((true, "Ines, anna over OPC UA"), (Value("N-1/FLOW/Bypassed").Value.AsBoolean, Value("N-1/FLOW/BypassedBy").Value.AsString));
        Assert.Equal(UaDateTime.FromUnixMs(NowUnixMs - 4_000 + 600_000), Value("N-1/FLOW/BypassedUntil").Value.AsDateTime);

        // 100 ms later the seconds left, rounded up, are the same: the end does not move.
        _ring.Scan(NowUnixMs - 3_900);
        Poll();
        Assert.Equal(UaDateTime.FromUnixMs(NowUnixMs - 4_000 + 600_000), Value("N-1/FLOW/BypassedUntil").Value.AsDateTime);

        // Somebody else prolongs it.
        _ring.Bypass(FunctionId.Flow, "Ole", 1_200);
        _ring.Scan(NowUnixMs - 3_800);
        Poll();
        Assert.Equal(("Ole", UaDateTime.FromUnixMs(NowUnixMs - 3_800 + 1_200_000)), (Value("N-1/FLOW/BypassedBy").Value.AsString, Value("N-1/FLOW/BypassedUntil").Value.AsDateTime));
        _ring.Bypass(FunctionId.Flow, "Ole", 0);
        _ring.Scan(NowUnixMs - 3_700);
        Poll();
        Assert.Equal((false, true, StatusCode.BadNoData), (Value("N-1/FLOW/Bypassed").Value.AsBoolean, Value("N-1/FLOW/BypassedBy").Value.IsNull, Value("N-1/FLOW/BypassedUntil").Status));
        Assert.Null(_space.Find(new NodeId(2, "N-1/COMM/Bypassed")));
    }

    [Fact]
    public void The_head_of_the_journal_is_told_and_a_damaged_one_is_not_believed()
    {
        byte[] head = new JournalHead(812, 3, 4711, new string('a', 64)).ToBytes();
        File.WriteAllBytes(_ring.HeadPath, head);
        Poll();
        Assert.Equal((812L, new string('a', 64)), (Value("/guard/JournalHeadNumber").Value.AsInteger, Value("/guard/JournalHeadHash").Value.AsString));
        head[40] ^= 1;
        File.WriteAllBytes(_ring.HeadPath, head);
        Poll(1_100);
        Assert.Equal(StatusCode.BadNoData, Value("/guard/JournalHeadHash").Status);
    }

    [Fact]
    public void Taking_a_scan_allocates_next_to_nothing()
    {
        _ring.Start();
        for (int i = 0; i < 3; i++)
        {
            _ring.Scan(NowUnixMs);
            Poll();
        }

        _ring.Scan(NowUnixMs);
        Action<ChannelClock> updated = static _ => { };
        long before = GC.GetAllocatedBytesForCurrentThread();
        _feed.Poll(Now, updated);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(allocated < 500, $"{allocated} bytes");
    }

    public void Dispose()
    {
        _feed.Dispose();
        _ring.Dispose();
    }

    private ChannelClock Now => new(_nowMs, UaDateTime.FromUnixMs(NowUnixMs));

    private int Poll(long afterMs = 0)
    {
        _nowMs += afterMs;
        return _feed.Poll(Now, _ => _updates++);
    }

    private DataValue Value(string id)
    {
        Assert.True(_space.TryFind(new NodeId(2, id), out VariableNode? node), id);
        node.Sample(out DataValue value);
        return value;
    }
}
