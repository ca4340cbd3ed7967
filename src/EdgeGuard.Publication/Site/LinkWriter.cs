using EdgeGuard.OpcUa;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Site;

/// <summary>Writes the figures of one link into its nodes. Their stamp is that of the scan that copied them.</summary>
internal sealed class LinkWriter(LinkNodes nodes)
{
    private const double UsPerMs = 1000;

    public void Write(ScanRingLink link, UaDateTime scan)
    {
        bool answered = link[LinkFigure.Answers] + link[LinkFigure.Exceptions] > 0;
        foreach (LinkFigureText text in LinkFigureTexts.All)
        {
            nodes[text.Figure].Set(Value(text.Kind, link[text.Figure], answered, scan));
        }
    }

    // Nothing was answered yet: there is no round trip, and 0 ms would be read as a very good one.
    private static DataValue Value(LinkFigureKind kind, long figure, bool answered, UaDateTime scan) => kind switch
    {
        LinkFigureKind.State => new DataValue(new Variant(figure == 1), StatusCode.Good, scan),
        LinkFigureKind.RoundTrip when !answered => new DataValue(default, StatusCode.BadNoData, scan),
        LinkFigureKind.RoundTrip => new DataValue(new Variant(figure / UsPerMs), StatusCode.Good, scan),
        _ => new DataValue(new Variant(unchecked((ulong)figure)), StatusCode.Good, scan),
    };
}
