namespace EdgeGuard.Records.Ring;

/// <summary>
/// What a link to devices has been through since the guard started. The scan thread fills one a link and hands them to
/// <see cref="ScanRingWriter.Write"/>; a reader gets them back. Each figure is whole, the set is not a snapshot.
/// </summary>
public sealed class ScanRingLink
{
    private readonly long[] _figures = new long[LinkFigureTexts.Count];

    /// <summary>One figure.</summary>
    /// <param name="figure">Which.</param>
    public long this[LinkFigure figure]
    {
        get => _figures[(int)figure];
        set => _figures[(int)figure] = value;
    }

    /// <summary>All figures in the order of <see cref="LinkFigure"/>.</summary>
    public Span<long> Figures => _figures;

    /// <summary>A connection is up that has answered.</summary>
    public bool IsUp => this[LinkFigure.State] == 1;
}
