using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Site;

/// <summary>Writes the figures of one link into its nodes. Their stamp is that of the scan that copied them.</summary>
internal sealed class LinkWriter(LinkNodes nodes)
{
    private const double UsPerMs = 1000;

    public void Write(in ScanRingLink link, UaDateTime scan)
    {
        Set(nodes.State, new Variant(link.IsUp), scan);
        Set(nodes.Requests, new Variant(link.Requests), scan);
        Set(nodes.Answers, new Variant(link.Answers), scan);
        Set(nodes.Exceptions, new Variant(link.Exceptions), scan);
        Set(nodes.Timeouts, new Variant(link.Timeouts), scan);
        Set(nodes.BadAnswers, new Variant(link.BadAnswers), scan);
        Set(nodes.ChecksumErrors, new Variant(link.ChecksumErrors), scan);
        Set(nodes.LateAnswers, new Variant(link.LateAnswers), scan);
        Set(nodes.Connects, new Variant(link.Connects), scan);
        Set(nodes.Losses, new Variant(link.Losses), scan);
        Set(nodes.FailedWrites, new Variant(link.FailedWrites), scan);
        Set(nodes.DroppedWrites, new Variant(link.DroppedWrites), scan);
        Set(nodes.PollOverruns, new Variant(link.PollOverruns), scan);
        Set(nodes.Faults, new Variant(link.Faults), scan);
        SetRoundTrip(nodes.RoundTripLast, link.RoundTripLastUs, link, scan);
        SetRoundTrip(nodes.RoundTripMax, link.RoundTripMaxUs, link, scan);
    }

    // Nothing was answered yet: there is no round trip, and 0 ms would be read as a very good one.
    private static void SetRoundTrip(VariableNode node, long us, in ScanRingLink link, UaDateTime scan)
    {
        if (link.Answers + link.Exceptions == 0)
        {
            node.Set(new DataValue(default, StatusCode.BadNoData, scan));
        }
        else
        {
            Set(node, new Variant(us / UsPerMs), scan);
        }
    }

    private static void Set(VariableNode node, Variant value, UaDateTime stamp) => node.Set(new DataValue(value, StatusCode.Good, stamp));
}
