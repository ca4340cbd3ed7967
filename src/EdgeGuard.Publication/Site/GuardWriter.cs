using EdgeGuard.OpcUa;
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
        nodes.Scans.Set(new Variant(live.ScansWritten), now);
        nodes.Heartbeat.Set(new Variant(UaDateTime.FromUnixMs(live.HeartbeatUtcUnixMs)), now);
        nodes.LatenessLast.Set(new Variant(live.LatenessLastUs / UsPerMs), now);
        nodes.LatenessMax.Set(new Variant(live.LatenessMaxUs / UsPerMs), now);
        nodes.Overruns.Set(new Variant(live.Overruns), now);
        nodes.Allocated.Set(new Variant(live.AllocatedBytes), now);
        nodes.Journal.Set(new Variant((uint)live.Journal), now);
        nodes.DurableEvent.Set(new Variant(live.DurableEvent), now);
        nodes.TailDropped.Set(new Variant(live.TailDropped), now);
        nodes.Events.Set(new Variant(live.EventsWritten), now);
        nodes.SitePower.SetNumber(sitePowerKw, now);
    }

    public void WriteLink(GuardLink link, long recordsLost, UaDateTime now)
    {
        nodes.Link.Set(new Variant((uint)link), now);
        nodes.RecordsLost.Set(new Variant(recordsLost), now);
    }

    public void WriteRun(string runId, UaDateTime now) => nodes.RunId.Set(new Variant(runId), now);

    /// <summary>Reads the head record of the journal; what cannot be read is told by the status.</summary>
    public void WriteJournalHead(UaDateTime now)
    {
        JournalHead? head = ReadHead();
        if (head is null)
        {
            _last = null;
            nodes.JournalHeadNumber.SetNoData(now);
            nodes.JournalHeadHash.SetNoData(now);
        }
        else if (head != _last)
        {
            _last = head;
            nodes.JournalHeadNumber.Set(new Variant(head.Number), now);
            nodes.JournalHeadHash.Set(new Variant(head.Hash), now);
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
}
