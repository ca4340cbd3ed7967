using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Sessions;

/// <summary>
/// Requests of one session by service, for its diagnostics. OPC 10000-5, 12.11 wants approximate figures and no burden:
/// one increment a request, wrapping around.
/// </summary>
internal sealed class SessionTally
{
    // One place for each service of the structure; the last is for those it does not name.
    private const int Places = 28;

    private readonly uint[] _requests = new uint[Places + 1];
    private readonly uint[] _errors = new uint[Places + 1];
    private uint _unauthorized;

    /// <summary>Counts one request and what it was answered with.</summary>
    public void Count(IServiceRequest request, StatusCode result)
    {
        int place = Place(request);
        Interlocked.Increment(ref _requests[place]);
        if (result.IsBad())
        {
            Interlocked.Increment(ref _errors[place]);
            if (result is StatusCode.BadUserAccessDenied)
            {
                Interlocked.Increment(ref _unauthorized);
            }
        }
    }

    /// <summary>Writes the figures into the structure clients read.</summary>
    public void Fill(SessionDiagnosticsDataType target)
    {
        target.TotalRequestCount = new ServiceCounterDataType { TotalCount = Sum(_requests), ErrorCount = Sum(_errors) };
        target.UnauthorizedRequestCount = Volatile.Read(ref _unauthorized);
        target.ReadCount = At(0);
        target.HistoryReadCount = At(1);
        target.WriteCount = At(2);
        target.HistoryUpdateCount = At(3);
        target.CallCount = At(4);
        target.CreateMonitoredItemsCount = At(5);
        target.ModifyMonitoredItemsCount = At(6);
        target.SetMonitoringModeCount = At(7);
        target.SetTriggeringCount = At(8);
        target.DeleteMonitoredItemsCount = At(9);
        target.CreateSubscriptionCount = At(10);
        target.ModifySubscriptionCount = At(11);
        target.SetPublishingModeCount = At(12);
        target.PublishCount = At(13);
        target.RepublishCount = At(14);
        target.TransferSubscriptionsCount = At(15);
        target.DeleteSubscriptionsCount = At(16);
        target.AddNodesCount = At(17);
        target.AddReferencesCount = At(18);
        target.DeleteNodesCount = At(19);
        target.DeleteReferencesCount = At(20);
        target.BrowseCount = At(21);
        target.BrowseNextCount = At(22);
        target.TranslateBrowsePathsToNodeIdsCount = At(23);
        target.QueryFirstCount = At(24);
        target.QueryNextCount = At(25);
        target.RegisterNodesCount = At(26);
        target.UnregisterNodesCount = At(27);
    }

    private ServiceCounterDataType At(int place) => new() { TotalCount = Volatile.Read(ref _requests[place]), ErrorCount = Volatile.Read(ref _errors[place]) };

    private static uint Sum(uint[] counts)
    {
        uint sum = 0;
        foreach (uint count in counts)
        {
            sum = unchecked(sum + count);
        }

        return sum;
    }

    // In the order of the structure.
    private static int Place(IServiceRequest request) => request switch
    {
        ReadRequest => 0,
        HistoryReadRequest => 1,
        WriteRequest => 2,
        CallRequest => 4,
        CreateMonitoredItemsRequest => 5,
        ModifyMonitoredItemsRequest => 6,
        SetMonitoringModeRequest => 7,
        SetTriggeringRequest => 8,
        DeleteMonitoredItemsRequest => 9,
        CreateSubscriptionRequest => 10,
        ModifySubscriptionRequest => 11,
        SetPublishingModeRequest => 12,
        PublishRequest => 13,
        RepublishRequest => 14,
        TransferSubscriptionsRequest => 15,
        DeleteSubscriptionsRequest => 16,
        BrowseRequest => 21,
        BrowseNextRequest => 22,
        TranslateBrowsePathsToNodeIdsRequest => 23,
        RegisterNodesRequest => 26,
        UnregisterNodesRequest => 27,
        _ => Places,
    };
}
