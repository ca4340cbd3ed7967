using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Services;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>
/// For fuzz tests: nodes of sessions and subscriptions, there or not, and what must hold of all of them whatever clients do.
/// </summary>
internal static class TransientNodes
{
    // OPC 10000-5: an object, complex variables with 43 and 9 components, an array; a variable with 31 components.
    public const int OfSession = 1 + 1 + 43 + 1 + 9 + 1;
    public const int OfSubscription = 1 + 31;

    private static readonly string[] Texts =
    [
        "session/{0}/SessionDiagnostics", "session/{0}/SessionDiagnostics/ReadCount", "session/{0}/SessionSecurityDiagnostics", "session/{0}/SubscriptionDiagnosticsArray",
        "subscription/{0}", "subscription/{0}/PublishingInterval", "subscription/{0}/MonitoredItemCount",
    ];

    /// <summary>One of them by a number of a session or subscription, or a node that holds them.</summary>
    public static NodeId Any(Random random, uint number) => random.Next(10) switch
    {
        0 => DiagnosticsReader.AllSubscriptions,
        1 => DiagnosticsReader.Summary,
        2 => DiagnosticsReader.AllSessions,
        3 or 4 => new NodeId(1, number),
        _ => new NodeId(1, string.Format(System.Globalization.CultureInfo.InvariantCulture, Texts[random.Next(Texts.Length)], number)),
    };

    /// <summary>As many nodes as sessions and subscriptions, each linked and good for who may see all.</summary>
    public static void Check(ServerBench bench, int nodesBefore)
    {
        Assert.Equal(nodesBefore + (bench.Server.SessionCount * OfSession) + (bench.Server.SubscriptionCount * OfSubscription), bench.Space.Count);
        int sessions = Held(bench, DiagnosticsReader.Summary).Count(static node => node is ObjectNode);
        Assert.Equal((bench.Server.SessionCount, bench.Server.SubscriptionCount), (sessions, Held(bench, DiagnosticsReader.AllSubscriptions).Length));
        foreach (Node node in Held(bench, DiagnosticsReader.AllSubscriptions).Concat(Held(bench, DiagnosticsReader.AllSessions)))
        {
            Assert.Same(node, bench.Space.Find(node.NodeId));
            Assert.Equal(StatusCode.Good, Read(bench, node.NodeId).Status);
            Assert.All(node.References.ToArray(), reference => Assert.Same(reference.Target, bench.Space.Find(reference.Target.NodeId)));
        }
    }

    /// <summary>Reads as somebody who may see everything.</summary>
    public static DataValue Read(ServerBench bench, NodeId node) =>
        AttributeReader.Read(new ServiceContext(bench.Space, new CallerContext { Roles = CallerRoles.Any }, bench.Now.Utc, bench.Server.Options.Operations), new ReadValueId { NodeId = node, AttributeId = (uint)AttributeId.Value });

    private static Node[] Held(ServerBench bench, NodeId holder) =>
        [.. bench.Space.Find(holder)!.References.ToArray().Where(static reference => reference.IsForward && reference.Type.NodeId.IsStandard(StandardIds.HasComponent)).Select(static reference => reference.Target)];
}
