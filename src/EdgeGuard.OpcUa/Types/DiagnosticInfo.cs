namespace EdgeGuard.OpcUa;

/// <summary>Vendor diagnostics (OPC 10000-4 and OPC 10000-6, 5.2.2.12); indexes point into the response header's string table, -1 is absent.</summary>
public sealed class DiagnosticInfo
{
    /// <summary>Index of a symbolic identifier, -1 for none.</summary>
    public int SymbolicId { get; init; } = -1;

    /// <summary>Index of the namespace URI of the symbolic identifier, -1 for none.</summary>
    public int NamespaceUri { get; init; } = -1;

    /// <summary>Index of the locale of the text, -1 for none.</summary>
    public int Locale { get; init; } = -1;

    /// <summary>Index of the text, -1 for none.</summary>
    public int LocalizedText { get; init; } = -1;

    /// <summary>Free text, or null.</summary>
    public string? AdditionalInfo { get; init; }

    /// <summary>Status of an inner operation, or null.</summary>
    public StatusCode? InnerStatusCode { get; init; }

    /// <summary>Diagnostics of an inner operation, or null.</summary>
    public DiagnosticInfo? InnerDiagnosticInfo { get; init; }
}
