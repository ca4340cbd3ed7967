namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>What the Server object says of the server and never changes while it runs.</summary>
public sealed record ServerFacts
{
    /// <summary>The same URI as in the endpoint descriptions and the certificate: ServerArray[0] and NamespaceArray[1].</summary>
    public required string ApplicationUri { get; init; }

    /// <summary>URIs of the namespaces from index 2 on.</summary>
    public required IReadOnlyList<string> Namespaces { get; init; }

    /// <summary>URI of the product.</summary>
    public required string ProductUri { get; init; }

    /// <summary>Who makes the product.</summary>
    public required string ManufacturerName { get; init; }

    /// <summary>Name of the product.</summary>
    public required string ProductName { get; init; }

    /// <summary>Version of the software.</summary>
    public required string SoftwareVersion { get; init; }

    /// <summary>Number of the build, or the version again.</summary>
    public string BuildNumber { get; init; } = "";

    /// <summary>When it was built.</summary>
    public UaDateTime BuildDate { get; init; }

    /// <summary>Profiles that are announced.</summary>
    public IReadOnlyList<string> Profiles { get; init; } = ServerProfiles.Announced;

    /// <summary>Locales of the texts.</summary>
    public IReadOnlyList<string> LocaleIds { get; init; } = ["en"];

    /// <summary>Limits to announce.</summary>
    public OperationLimits Limits { get; init; } = new();
}
