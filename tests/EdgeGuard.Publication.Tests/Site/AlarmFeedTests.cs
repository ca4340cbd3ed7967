using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.Publication.Site;
using EdgeGuard.Publication.Tests.Rigs;
using EdgeGuard.Records.Journal;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Tests.Site;

/// <summary>What is hidden of alarms, from the ring to the nodes.</summary>
public sealed class AlarmFeedTests : IDisposable
{
    private const long NowUnixMs = 1_772_000_000_000;
    private readonly RingRig _ring = new() { ScanCapacity = 16 };
    private readonly NodeSpace _space = new(UaDateTime.FromUnixMs(NowUnixMs - 60_000));
    private readonly RingFeed _feed;

    public AlarmFeedTests()
    {
        StandardNodes.Load(_space);
        SiteNodes nodes = new SiteSpaceBuilder(new SpaceBuilder(_space), RingRig.Site, RingRig.LinkNames, new Dictionary<string, ProofTestFacts>(StringComparer.Ordinal)).Build();
        _feed = new RingFeed(
            new FeedOptions { Site = RingRig.Site, LinkNames = RingRig.LinkNames, SiteDigest = RingRig.Digest, RingPath = _ring.RingPath, JournalHeadPath = _ring.HeadPath, LateMs = 1_000, LostMs = 10_000, Log = new ListLog() }, nodes, 5_000);
    }

    [Trait("requirement", "ALRM-7")]
    [Fact]
    public void A_hidden_alarm_tells_who_why_and_until_when_without_wavering_and_is_shown_again()
    {
        _ring.Start();
        _ring.Alarm(FunctionId.Cool, new AlarmPointStatus { State = AlarmState.Normal });
        _ring.Scan(NowUnixMs - 5_000);
        Poll();
        (StatusCode, StatusCode, StatusCode) Statuses() => (Value("N-1/COOL/ShelvedUntil").Status, Value("N-1/COOL/HiddenBy").Status, Value("N-1/COOL/HiddenReason").Status);
        Assert.Equal((StatusCode.BadNoData, StatusCode.BadNoData, StatusCode.BadNoData), Statuses());
        _ring.Alarm(FunctionId.Cool, new AlarmPointStatus { State = AlarmState.Shelved, ShelfSecondsLeft = 600 }, "Ines (anna)", "damper under repair");
        _ring.Scan(NowUnixMs - 4_000);
        Poll();
        Assert.Equal(("Ines (anna)", "damper under repair"), (Value("N-1/COOL/HiddenBy").Value.AsString, Value("N-1/COOL/HiddenReason").Value.AsString));
        UaDateTime until = UaDateTime.FromUnixMs(NowUnixMs - 4_000 + 600_000);
        Assert.Equal(until, Value("N-1/COOL/ShelvedUntil").Value.AsDateTime);

        // 1.5 s later 599 s are left, rounded up: the same end, not a later one.
        _ring.Alarm(FunctionId.Cool, new AlarmPointStatus { State = AlarmState.Shelved, ShelfSecondsLeft = 599 });
        _ring.Scan(NowUnixMs - 2_500);
        Poll();
        Assert.Equal(until, Value("N-1/COOL/ShelvedUntil").Value.AsDateTime);

        // Out of service has no end; a suppression tells the rule and no person.
        _ring.Alarm(FunctionId.Cool, new AlarmPointStatus { State = AlarmState.OutOfService }, "Otto", "sensor sent away");
        _ring.Scan(NowUnixMs - 2_000);
        Poll();
        Assert.Equal((StatusCode.BadNoData, "Otto", "sensor sent away"), (Value("N-1/COOL/ShelvedUntil").Status, Value("N-1/COOL/HiddenBy").Value.AsString, Value("N-1/COOL/HiddenReason").Value.AsString));
        _ring.Alarm(FunctionId.Cool, new AlarmPointStatus { State = AlarmState.SuppressedByDesign, Condition = true, Suppression = AlarmSuppression.ForcedByTrip });
        _ring.Scan(NowUnixMs - 1_500);
        Poll();
        Assert.Equal((StatusCode.BadNoData, AlarmTexts.Why(AlarmSuppression.ForcedByTrip)), (Value("N-1/COOL/HiddenBy").Status, Value("N-1/COOL/HiddenReason").Value.AsString));
        _ring.Alarm(FunctionId.Cool, new AlarmPointStatus { State = AlarmState.Unacknowledged, Condition = true });
        _ring.Scan(NowUnixMs - 1_000);
        Poll();
        Assert.Equal((StatusCode.BadNoData, StatusCode.BadNoData, StatusCode.BadNoData), Statuses());
    }

    public void Dispose()
    {
        _feed.Dispose();
        _ring.Dispose();
    }

    private void Poll() => _feed.Poll(new ChannelClock(5_000, UaDateTime.FromUnixMs(NowUnixMs)), static _ => { });

    private DataValue Value(string id)
    {
        Assert.True(_space.TryFind(new NodeId(2, id), out VariableNode? node), id);
        node.Sample(out DataValue value);
        return value;
    }
}
