using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Sessions;
using EdgeGuard.OpcUa.Subscriptions;

namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// The methods of the Server object that concern the caller's own session: GetMonitoredItems and ResendData
/// (OPC 10000-5, 9.1 and 9.2). A subscription of another session is refused with BadUserAccessDenied.
/// </summary>
internal static class SessionMethods
{
    private const uint GetMonitoredItems = 11492;
    private const uint ResendData = 12873;

    public static void Install(NodeSpace space, UaServer server, SubscriptionEngine subscriptions)
    {
        if (space.TryFind(new NodeId(GetMonitoredItems), out MethodNode? items))
        {
            items.Handler = (caller, _, inputs) => With(server, subscriptions, caller, inputs, static (subscription, _) => Handles(subscription));
        }

        if (space.TryFind(new NodeId(ResendData), out MethodNode? resend))
        {
            resend.Handler = (caller, _, inputs) => With(server, subscriptions, caller, inputs, static (subscription, now) =>
            {
                subscription.Order.ForEach(item => item.Resend(now));
                return new CallMethodResult();
            });
        }
    }

    private static CallMethodResult With(UaServer server, SubscriptionEngine subscriptions, CallerContext caller, Variant[] inputs, Func<UaSubscription, UaDateTime, CallMethodResult> act)
    {
        uint id = inputs.Length > 0 ? unchecked((uint)inputs[0].AsInteger) : 0;
        lock (server.Gate)
        {
            UaSession? session = server.Sessions.All.FirstOrDefault(s => s.SessionId == caller.SessionId);
            if (session is not null && subscriptions.Find(session, id) is { } subscription)
            {
                return act(subscription, server.NowUtc);
            }

            return new CallMethodResult { StatusCode = subscriptions.Exists(id) ? StatusCode.BadUserAccessDenied : StatusCode.BadSubscriptionIdInvalid };
        }
    }

    private static CallMethodResult Handles(UaSubscription subscription) => new()
    {
        OutputArguments =
        [
            Variant.FromArray(BuiltInType.UInt32, subscription.Order.Select(static item => item.Id).ToArray()),
            Variant.FromArray(BuiltInType.UInt32, subscription.Order.Select(static item => item.ClientHandle).ToArray()),
        ],
    };
}
