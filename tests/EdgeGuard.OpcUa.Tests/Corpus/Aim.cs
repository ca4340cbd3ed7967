using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Corpus;

/// <summary>
/// Turns a recorded request to what the server under test has: its nodes instead of those of the recording, ranges, and the
/// identifiers of its subscriptions and items, which count from 1. Otherwise most requests would end at an unknown node.
/// </summary>
internal static class Aim
{
    private static readonly string?[] Ranges = [null, null, null, "0", "1:2", "0:9", "2:1", "0,0", "1:2,0:1", "0:4"];
    private static readonly NodeId[] Standard = [new(2253), new(2254), new(2255), new(2256), new(2258), new(2268), new(2274), new(84), new(11492), new(2994)];

    public static void At(IServiceRequest request, ServerBench bench, Random random)
    {
        switch (request)
        {
            case ReadRequest read:
                foreach (ref ReadValueId id in read.NodesToRead.AsSpan())
                {
                    id = Read(id, bench, random);
                }

                break;
            case WriteRequest write:
                foreach (ref WriteValue value in write.NodesToWrite.AsSpan())
                {
                    (value.NodeId, value.IndexRange) = (Node(bench, random), Ranges[random.Next(Ranges.Length)]);
                }

                break;
            case CreateMonitoredItemsRequest create:
                create.SubscriptionId = Number(random);
                foreach (MonitoredItemCreateRequest item in create.ItemsToCreate ?? [])
                {
                    item.ItemToMonitor = Read(item.ItemToMonitor, bench, random);
                }

                break;
            case BrowseRequest browse:
                foreach (ref BrowseDescription wanted in browse.NodesToBrowse.AsSpan())
                {
                    wanted.NodeId = Node(bench, random);
                }

                break;
            case CallRequest call when random.Next(2) == 0:
                call.MethodsToCall = [new CallMethodRequest { ObjectId = new NodeId(2, "N-1"), MethodId = bench.Stop.NodeId, InputArguments = [new Variant("fuzz")] }];
                break;
            default:
                Count(request, random);
                break;
        }
    }

    private static void Count(IServiceRequest request, Random random)
    {
        switch (request)
        {
            case ModifyMonitoredItemsRequest modify:
                modify.SubscriptionId = Number(random);
                break;
            case SetMonitoringModeRequest mode:
                (mode.SubscriptionId, mode.MonitoredItemIds) = (Number(random), [Number(random), Number(random)]);
                break;
            case SetTriggeringRequest trigger:
                (trigger.SubscriptionId, trigger.TriggeringItemId, trigger.LinksToAdd) = (Number(random), Number(random), [Number(random)]);
                break;
            case RepublishRequest again:
                (again.SubscriptionId, again.RetransmitSequenceNumber) = (Number(random), Number(random));
                break;
            case ModifySubscriptionRequest modify:
                modify.SubscriptionId = Number(random);
                break;
            default:
                break;
        }
    }

    private static ReadValueId Read(in ReadValueId id, ServerBench bench, Random random) => id with { NodeId = Node(bench, random), IndexRange = Ranges[random.Next(Ranges.Length)] };

    private static NodeId Node(ServerBench bench, Random random) => random.Next(9) switch
    {
        7 or 8 => TransientNodes.Any(random, Number(random)),
        0 => bench.Outlet.NodeId,
        1 => bench.State.NodeId,
        2 or 3 => bench.Trend.NodeId,
        4 => bench.Flow.NodeId,
        _ => Standard[random.Next(Standard.Length)],
    };

    private static uint Number(Random random) => (uint)random.Next(1, 6);
}
