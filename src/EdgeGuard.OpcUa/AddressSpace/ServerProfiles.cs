namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// Profiles and facets of OPC 10000-7 (version 1.04) that this server announces in ServerProfileArray. A profile may stand
/// here only while every one of its units has a test: docs/reference/opcua-profiles.md names them, and a test of its own
/// holds this list, that table and the units of the standard together.
/// </summary>
public static class ServerProfiles
{
    private const string Root = "http://opcfoundation.org/UA-Profile/";

    /// <summary>URIs of the profiles and facets, as the standard lists them.</summary>
    public static IReadOnlyList<string> Announced { get; } =
    [
        Root + "Server/EmbeddedUA2017",
        Root + "Server/StandardUA2017",
        Root + "Server/StandardDataChangeSubscription2017",
        Root + "Server/EnhancedDataChangeSubscription2017",
        Root + "Server/Methods",
        Root + "Security/UserToken/Server/UserNamePassword",
        Root + "Security/UserToken/Server/X509Certificate",
    ];
}
