using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.Requests;

/// <summary>State and figures of one link.</summary>
/// <param name="Name">Name of the link.</param>
/// <param name="Online">True while it is connected and has answered.</param>
/// <param name="Figures">Every figure since start that is not 0, by the name of its <see cref="LinkFigure"/>; round trips in µs.</param>
public sealed record LinkStatus(string Name, bool Online, IReadOnlyDictionary<string, long> Figures)
{
    /// <summary>Certificates of a secured link; null for one in the clear.</summary>
    public IReadOnlyList<CertificateReport>? Certificates { get; init; }

    /// <summary>One figure; 0 when it is not listed.</summary>
    /// <param name="figure">Which.</param>
    public long Of(LinkFigure figure) => Figures.GetValueOrDefault(LinkFigureTexts.Of(figure).Name);
}
