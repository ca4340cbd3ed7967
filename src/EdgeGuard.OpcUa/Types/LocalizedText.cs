namespace EdgeGuard.OpcUa;

/// <summary>A text in the language of a locale (OPC 10000-3).</summary>
/// <param name="Locale">Language tag such as "en", or null.</param>
/// <param name="Text">The text, or null.</param>
public readonly record struct LocalizedText(string? Locale, string? Text)
{
    /// <summary>An English text.</summary>
    public LocalizedText(string? text)
        : this(text is null ? null : "en", text)
    {
    }
}
