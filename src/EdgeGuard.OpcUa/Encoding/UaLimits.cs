namespace EdgeGuard.OpcUa;

/// <summary>Limits of the decoder. Nothing a peer declares is believed beyond them.</summary>
public sealed record UaLimits
{
    /// <summary>Limits for requests of a client.</summary>
    public static UaLimits Default { get; } = new();

    /// <summary>Longest string in bytes of UTF-8.</summary>
    public int StringBytesMax { get; init; } = 65_536;

    /// <summary>Longest ByteString or encoded body in bytes.</summary>
    public int ByteStringBytesMax { get; init; } = 1_048_576;

    /// <summary>Longest array in elements.</summary>
    public int ArrayLengthMax { get; init; } = 65_536;

    /// <summary>Deepest nesting; OPC 10000-6 demands at least 100 for Variant, DiagnosticInfo and ExtensionObject.</summary>
    public int NestingMax { get; init; } = 100;

    /// <summary>Memory one message may take once decoded, in bytes (arrays and strings, estimated).</summary>
    public long DecodedBytesMax { get; init; } = 33_554_432;

    /// <summary>Text identifiers that are known and need not be allocated again, or null.</summary>
    public KnownTexts? KnownTexts { get; init; }
}
