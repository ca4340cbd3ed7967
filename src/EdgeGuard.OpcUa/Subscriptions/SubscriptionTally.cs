namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>What a subscription has been through, for its diagnostics (OPC 10000-5, 12.15). Under the server's gate.</summary>
internal sealed class SubscriptionTally
{
    public uint Modified;
    public uint Enabled;
    public uint Disabled;
    public uint RepublishRequests;
    public uint Republished;
    public uint TransferRequests;
    public uint TransferredToOtherClient;
    public uint TransferredToSameClient;
    public uint Publishes;
    public uint DataChanges;
    public uint Late;
    public uint KeepAlives;
    public uint QueueOverflows;

    /// <summary>One more, wrapping around.</summary>
    public static void Count(ref uint counter, uint by = 1) => counter = unchecked(counter + by);
}
