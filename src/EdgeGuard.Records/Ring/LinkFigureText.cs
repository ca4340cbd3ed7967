namespace EdgeGuard.Records.Ring;

/// <summary>The words for a figure of a link.</summary>
/// <param name="Figure">The figure.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Title">What it counts, as it stands behind a number.</param>
/// <param name="LookAt">What to look for in the field when it rises; empty for ordinary work.</param>
public sealed record LinkFigureText(LinkFigure Figure, LinkFigureKind Kind, string Title, string LookAt)
{
    /// <summary>Name of the figure, the same everywhere: ring, OPC UA, status.</summary>
    public string Name { get; } = Figure.ToString();

    /// <summary>One sentence, or two.</summary>
    public string Description
    {
        get
        {
            string title = char.ToUpperInvariant(Title[0]) + Title[1..];
            return LookAt.Length == 0 ? title : $"{title}. Look at: {LookAt}";
        }
    }
}
