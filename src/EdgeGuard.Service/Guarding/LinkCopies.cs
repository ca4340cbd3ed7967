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
        _links = [.. workers.Select(static _ => new ScanRingLink())];
    }

    /// <summary>Names in the order of the figures.</summary>
    public IReadOnlyList<string> Names => [.. _engines.Select(static e => e.Table.Name)];

    /// <summary>The figures as they are now; valid until the next call.</summary>
    public ReadOnlySpan<ScanRingLink> Collect()
    {
        for (int i = 0; i < _engines.Length; i++)
        {
            _engines[i].CopyFigures(_links[i].Figures);
        }

        return _links;
    }
}
