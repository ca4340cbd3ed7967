using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>What tests of the diagnostics ask again and again.</summary>
internal static class DiagnosticsReader
{
    // NodeIds.csv of the standard.
    public static readonly NodeId AllSubscriptions = new(2290);
    public static readonly NodeId Summary = new(3706);
    public static readonly NodeId AllSessions = new(3707);
    public static readonly NodeId AllSecurity = new(3708);

    /// <summary>A client of somebody who may see all of it.</summary>
    public static BenchClient Engineer(ServerBench bench)
    {
        BenchClient client = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        client.CreateSession();
        client.Activate(new UserNameIdentityToken { UserName = "engineer", Password = "pellets-650"u8.ToArray() });
        return client;
    }

    public static BrowseDescription Components(NodeId node, NodeClass classes = NodeClass.Unspecified) => new()
    {
        NodeId = node,
        BrowseDirection = BrowseDirection.Forward,
        ReferenceTypeId = new NodeId(47), // HasComponent
        NodeClassMask = (uint)classes,
        ResultMask = 63,
    };

    /// <summary>The components of a node.</summary>
    public static ReferenceDescription[] Browse(BenchClient client, NodeId node, NodeClass classes = NodeClass.Unspecified)
    {
        BrowseResult result = client.Ask<BrowseResponse>(new BrowseRequest { NodesToBrowse = [Components(node, classes)] }).Results![0];
        Assert.Equal(StatusCode.Good, result.StatusCode);
        return result.References!;
    }

    public static NodeId[] Ids(BenchClient client, NodeId node, NodeClass classes = NodeClass.Unspecified) => [.. Browse(client, node, classes).Select(static reference => reference.NodeId.NodeId)];

    /// <summary>The component with this name.</summary>
    public static NodeId Component(BenchClient client, NodeId node, string name) => Browse(client, node).Single(reference => reference.BrowseName.Name == name).NodeId.NodeId;

    public static Variant Good(BenchClient client, NodeId node)
    {
        DataValue value = client.Read(node);
        Assert.Equal(StatusCode.Good, value.Status);
        return value.Value;
    }

    public static T[] Array<T>(BenchClient client, NodeId node)
        where T : IUaStructure<T> => [.. Good(client, node).Elements!.Cast<ExtensionObject>().Select(Decoded<T>)];

    public static T Structure<T>(BenchClient client, NodeId node)
        where T : IUaStructure<T> => Decoded<T>(Good(client, node).AsExtensionObject!);

    public static T Decoded<T>(ExtensionObject item)
        where T : IUaStructure<T>
    {
        Assert.Equal(StatusCode.Good, item.TryDecode(UaLimits.Default, out T? decoded));
        return decoded!;
    }
}
