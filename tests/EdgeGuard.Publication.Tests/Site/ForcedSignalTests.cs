using EdgeGuard.Core.Signals;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.Publication.Site;
using EdgeGuard.Publication.Tests.Rigs;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Tests.Site;

/// <summary>A forced signal on its way from the ring to the nodes.</summary>
public sealed class ForcedSignalTests : IDisposable
{
    private const long NowUnixMs = 1_772_000_000_000;
    private readonly RingRig _ring = new() { ScanCapacity = 16 };
    private readonly NodeSpace _space = new(UaDateTime.FromUnixMs(NowUnixMs - 60_000));
    private readonly RingFeed _feed;
    private long _nowMs = 5_000;

    public ForcedSignalTests()
    {
        StandardNodes.Load(_space);
        SiteNodes nodes = new SiteSpaceBuilder(new SpaceBuilder(_space), RingRig.Site, RingRig.LinkNames, new Dictionary<string, ProofTestFacts>(StringComparer.Ordinal)).Build();
        _feed = new RingFeed(
            new FeedOptions { Site = RingRig.Site, LinkNames = RingRig.LinkNames, SiteDigest = RingRig.Digest, RingPath = _ring.RingPath, JournalHeadPath = _ring.HeadPath, LateMs = 1_000, LostMs = 10_000, Log = new ListLog() }, nodes, _nowMs);
    }

    [Trait("requirement", "FORC-8")]
    [Fact]
    public void A_forced_signal_has_its_own_status_and_the_real_value_beside_it_with_who_why_and_until_when()
    {
        _ring.Start();
        _ring.SetSignal(0, SignalRole.GasFlow, 133);
        _ring.Scan(NowUnixMs - 500);
        Poll();
        const string At = "N-1/forces/GasFlow/";
        Assert.Equal((false, 133.0), (Value(At + "Forced").Value.AsBoolean, Value(At + "Real").Value.AsDouble));
        Assert.All(new[] { "ForcedBy", "ForcedReason", "ForcedUntil", "ForcedDemands" }, n => Assert.Equal(StatusCode.BadNoData, Value(At + n).Status));
        Assert.Equal(StatusCode.Good, Value("N-1/GasFlow").Status);

        _ring.SetSignal(0, SignalRole.GasFlow, 0, Core.Signals.StatusCode.BadSensorFailure);
        _ring.Force(SignalRole.GasFlow, 140, "Ines, anna over OPC UA", "meter out", 600, 3);
        _ring.Scan(NowUnixMs - 400);
        Poll();
        Assert.Equal((140.0, 0x00960000u), (Value("N-1/GasFlow").Value.AsDouble, (uint)Value("N-1/GasFlow").Status));
        Assert.Equal((true, 0x808C0000u), (Value(At + "Real").Value.IsNull, (uint)Value(At + "Real").Status));
        Assert.Equal((true, "Ines, anna over OPC UA", "meter out", 3L), (Value(At + "Forced").Value.AsBoolean, Value(At + "ForcedBy").Value.AsString, Value(At + "ForcedReason").Value.AsString, Value(At + "ForcedDemands").Value.AsInteger));
        Assert.Equal(UaDateTime.FromUnixMs(NowUnixMs - 400 + 600_000), Value(At + "ForcedUntil").Value.AsDateTime);

        _ring.Scan(NowUnixMs - 300);
        Poll();
        Assert.Equal(UaDateTime.FromUnixMs(NowUnixMs - 400 + 600_000), Value(At + "ForcedUntil").Value.AsDateTime);

        _ring.Force(SignalRole.GasFlow, 0, "", "", 0, 0);
        _ring.SetSignal(0, SignalRole.GasFlow, 131);
        _ring.Scan(NowUnixMs - 200);
        Poll();
        Assert.Equal((false, 131.0, StatusCode.BadNoData), (Value(At + "Forced").Value.AsBoolean, Value(At + "Real").Value.AsDouble, Value(At + "ForcedUntil").Status));

        // Never to be forced, not fitted, not marked: no nodes.
        Assert.All(new[] { "N-1/forces/Relay", "N-1/forces/Insulation", "N-1/forces/ElementTemperature", "A-1/forces" }, id => Assert.Null(_space.Find(new NodeId(2, id))));
    }

    public void Dispose()
    {
        _feed.Dispose();
        _ring.Dispose();
    }

    private void Poll()
    {
        _nowMs += 100;
        _feed.Poll(new ChannelClock(_nowMs, UaDateTime.FromUnixMs(NowUnixMs)), static _ => { });
    }

    private DataValue Value(string id)
    {
        Assert.True(_space.TryFind(new NodeId(2, id), out VariableNode? node), id);
        node.Sample(out DataValue value);
        return value;
    }
}
