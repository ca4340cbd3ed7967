using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Site;

/// <summary>Writes the figures of the guard and the head of its journal into their nodes.</summary>
internal sealed class GuardWriter(GuardNodes nodes, string journalHeadPath)
{
    private const double UsPerMs = 1000;

    private readonly byte[] _head = new byte[JournalHead.Size];
    private JournalHead? _last;

    public void Write(in ScanRingLive live, double sitePowerKw, UaDateTime now)
    {
        Set(nodes.Scans, new Variant(live.ScansWritten), now);
        Set(nodes.Heartbeat, new Variant(UaDateTime.FromUnixMs(live.HeartbeatUtcUnixMs)), now);
        Set(nodes.LatenessLast, new Variant(live.LatenessLastUs / UsPerMs), now);
        Set(nodes.LatenessMax, new Variant(live.LatenessMaxUs / UsPerMs), now);
        Set(nodes.Overruns, new Variant(live.Overruns), now);
        Set(nodes.Allocated, new Variant(live.AllocatedBytes), now);
        Set(nodes.Journal, new Variant((uint)live.Journal), now);
        Set(nodes.DurableEvent, new Variant(live.DurableEvent), now);
        Set(nodes.TailDropped, new Variant(live.TailDropped), now);
        Set(nodes.Events, new Variant(live.EventsWritten), now);
        nodes.SitePower.Set(double.IsNaN(sitePowerKw) ? new DataValue(default, StatusCode.BadNoData, now) : new DataValue(new Variant(sitePowerKw), StatusCode.Good, now));
    }

    public void WriteLink(GuardLink link, long recordsLost, UaDateTime now)
    {
        Set(nodes.Link, new Variant((uint)link), now);
        Set(nodes.RecordsLost, new Variant(recordsLost), now);
    }

    public void WriteRun(string runId, UaDateTime now) => Set(nodes.RunId, new Variant(runId), now);

    /// <summary>Reads the head record of the journal; what cannot be read is told by the status.</summary>
    public void WriteJournalHead(UaDateTime now)
    {
        JournalHead? head = ReadHead();
        if (head is null)
        {
            _last = null;
            nodes.JournalHeadNumber.Set(new DataValue(default, StatusCode.BadNoData, now));
            nodes.JournalHeadHash.Set(new DataValue(default, StatusCode.BadNoData, now));
        }
        else if (head != _last)
        {
            _last = head;
            Set(nodes.JournalHeadNumber, new Variant(head.Number), now);
            Set(nodes.JournalHeadHash, new Variant(head.Hash), now);
        }
    }

    private JournalHead? ReadHead()
    {
        try
        {
            using var stream = new FileStream(journalHeadPath, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            return stream.ReadAtLeast(_head, _head.Length, throwOnEndOfStream: false) == _head.Length ? JournalHead.Parse(_head) : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    private static void Set(VariableNode node, Variant value, UaDateTime stamp) => node.Set(new DataValue(value, StatusCode.Good, stamp));
}
