using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Guarding;

/// <summary>Collects the figures of all links for the ring into memory of its own; scan thread only, allocates nothing.</summary>
internal sealed class LinkCopies
{
    private readonly LinkEngine[] _engines;
    private readonly ScanRingLink[] _links;

    public LinkCopies(IReadOnlyList<LinkWorker> workers)
    {
        _engines = [.. workers.Select(static w => w.Engine)];
        _links = new ScanRingLink[_engines.Length];
    }

    /// <summary>Names in the order of the figures.</summary>
    public IReadOnlyList<string> Names => [.. _engines.Select(static e => e.Table.Name)];

    /// <summary>The figures as they are now; valid until the next call.</summary>
    public ReadOnlySpan<ScanRingLink> Collect()
    {
        for (int i = 0; i < _engines.Length; i++)
        {
            Fill(ref _links[i], _engines[i]);
        }

        return _links;
    }

    private static void Fill(ref ScanRingLink link, LinkEngine engine)
    {
        LinkFigures figures = engine.Counters;
        LinkCounters wire = engine.WireCounters;
        link.IsUp = engine.IsOnline;
        link.Requests = figures.GoodReads + figures.FailedReads + figures.GoodWrites + figures.FailedWrites;
        link.Answers = figures.GoodReads + figures.GoodWrites;
        link.Exceptions = figures.Exceptions;
        link.Timeouts = figures.Timeouts;
        link.BadAnswers = figures.BadAnswers;
        link.ChecksumErrors = wire.BadCrc;
        link.LateAnswers = wire.Late;
        link.Connects = figures.Connects;
        link.Losses = figures.Losses;
        link.FailedWrites = figures.FailedWrites;
        link.DroppedWrites = figures.DroppedWrites;
        link.PollOverruns = figures.PollOverruns;
        link.Faults = figures.Faults;
        link.RoundTripLastUs = figures.RoundTripLastUs;
        link.RoundTripMaxUs = figures.RoundTripMaxUs;
    }
}
