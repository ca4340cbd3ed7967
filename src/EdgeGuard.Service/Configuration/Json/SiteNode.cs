namespace EdgeGuard.Service.Configuration.Json;

/// <summary>A JSON value that knows where it stands.</summary>
internal sealed class SiteNode
{
    public required SiteNodeKind Kind { get; init; }

    public required TextPosition At { get; init; }

    /// <summary>The string, or the number and flag as written.</summary>
    public string Text { get; init; } = string.Empty;

    public double Number { get; init; } = double.NaN;

    public bool Flag { get; init; }

    public List<SiteMember> Members { get; } = [];

    public List<SiteNode> Items { get; } = [];

    /// <summary>The value as it may stand after "found" in a message.</summary>
    public string Describe() => Kind switch
    {
        SiteNodeKind.Null => "null",
        SiteNodeKind.Text => Quoted.Of(Text),
        SiteNodeKind.List => "a list",
        SiteNodeKind.Group => "an object",
        _ => Text.Length > 40 ? Text[..40] + "…" : Text,
    };
}
