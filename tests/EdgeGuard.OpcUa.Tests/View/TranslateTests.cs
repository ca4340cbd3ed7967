using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Services;
using EdgeGuard.OpcUa.Tests.AddressSpace;

namespace EdgeGuard.OpcUa.Tests.View;

/// <summary>TranslateBrowsePathsToNodeIds, RegisterNodes, UnregisterNodes (OPC 10000-4, 5.9.4 to 5.9.6).</summary>
public sealed class TranslateTests
{
    private readonly TestSpace _test = new();

    [Fact]
    public void Paths_lead_to_the_numbers_of_the_standard()
    {
        Assert.Equal([new NodeId(2264)], Follow(84, "Objects", "Server", "ServerStatus", "BuildInfo", "SoftwareVersion"));
        Assert.Equal([new NodeId(11705)], Follow(2253, "ServerCapabilities", "OperationLimits", "MaxNodesPerRead"));
        Assert.Equal([new NodeId(2253)], Follow(84, "Objects", "Server"));
    }

    [Fact]
    public void Paths_go_backwards_and_by_exact_type()
    {
        BrowsePath back = Path(2264, Element("BuildInfo") with { IsInverse = true });
        Assert.Equal(new NodeId(2260), Assert.Single(Translate(back).Targets!).TargetId.NodeId);
        Assert.Equal(StatusCode.BadNoMatch, Translate(Path(2264, Element("BuildInfo"))).StatusCode);
        Step exact = Element("BuildInfo") with { ReferenceTypeId = new NodeId(StandardIds.Organizes), IncludeSubtypes = false };
        Assert.Equal(StatusCode.BadNoMatch, Translate(Path(2256, exact)).StatusCode);
        Step any = Element("BuildInfo") with { ReferenceTypeId = default, IncludeSubtypes = false };
        Assert.Equal(StatusCode.Good, Translate(Path(2256, any)).StatusCode);
    }

    [Fact]
    public void Names_of_the_plant_have_their_namespace()
    {
        RelativePathElement[] plant = [Element("N-1", 2), Element("outlet", 2), Element("EURange")];
        Assert.Equal(TestSpace.Signal("N-1/outlet/EURange"), Assert.Single(Translate(Path(85, plant)).Targets!).TargetId.NodeId);
        Assert.Equal(StatusCode.BadNoMatch, Translate(Path(85, Element("N-1"))).StatusCode);
    }

    [Fact]
    public void A_followed_path_says_that_nothing_remains()
    {
        Assert.Equal(uint.MaxValue, Assert.Single(Translate(Path(84, Element("Objects"))).Targets!).RemainingPathIndex);
    }

    [Fact]
    public void Wrong_paths_are_refused_one_by_one()
    {
        Assert.Equal(StatusCode.BadNodeIdInvalid, Translate(Path(0, Element("x"))).StatusCode);
        Assert.Equal(StatusCode.BadNodeIdUnknown, Translate(Path(99_999, Element("x"))).StatusCode);
        Assert.Equal(StatusCode.BadNothingToDo, Translate(Path(85)).StatusCode);
        Assert.Equal(StatusCode.BadBrowseNameInvalid, Translate(Path(84, Element("Objects"), Element(null))).StatusCode);
        Assert.Equal(StatusCode.BadNoMatch, Translate(Path(84, Element("Objekte"))).StatusCode);
        Assert.Equal(StatusCode.BadNoMatch, Translate(Path(84, Element("Objects") with { ReferenceTypeId = new NodeId(58) })).StatusCode);
        Assert.Equal(StatusCode.BadQueryTooComplex, Translate(Path(84, [.. Enumerable.Repeat(Element("x"), 65)])).StatusCode);
    }

    [Fact]
    public void A_request_made_to_hurt_is_cut_short()
    {
        // To and fro between Mandatory (i=78) and everything of one name that is mandatory.
        Step there = Element("InputArguments") with { ReferenceTypeId = new NodeId(StandardIds.HasModellingRule), IsInverse = true };
        Step back = Element("Mandatory") with { ReferenceTypeId = new NodeId(StandardIds.HasModellingRule) };
        RelativePathElement[] path = [.. Enumerable.Range(0, 64).Select(i => (RelativePathElement)(i % 2 == 0 ? there : back))];
        var request = new TranslateBrowsePathsToNodeIdsRequest { BrowsePaths = [.. Enumerable.Repeat(Path(78, path), 2_000)] };
        var response = Assert.IsType<TranslateBrowsePathsToNodeIdsResponse>(TranslateService.Respond(_test.Context(), request));
        Assert.Equal(new NodeId(78), Assert.Single(response.Results![0].Targets!).TargetId.NodeId);
        Assert.Equal(StatusCode.BadQueryTooComplex, response.Results[^1].StatusCode);
    }

    [Fact]
    public void Contract_point_5_limits_are_obeyed()
    {
        _test.Limits = new OperationLimits { NodesPerTranslateBrowsePaths = 1, NodesPerRegisterNodes = 1 };
        BrowsePath path = Path(84, Element("Objects"));
        Assert.Equal(StatusCode.BadTooManyOperations, Result(TranslateService.Respond(_test.Context(), new() { BrowsePaths = [path, path] })));
        Assert.Equal(StatusCode.BadNothingToDo, Result(TranslateService.Respond(_test.Context(), new())));
        NodeId[] two = [new NodeId(84), new NodeId(85)];
        Assert.Equal(StatusCode.BadTooManyOperations, Result(RegisterService.Register(_test.Context(), new() { NodesToRegister = two })));
        Assert.Equal(StatusCode.BadTooManyOperations, Result(RegisterService.Unregister(_test.Context(), new() { NodesToUnregister = two })));
        Assert.Equal(StatusCode.BadNothingToDo, Result(RegisterService.Register(_test.Context(), new())));
    }

    [Fact]
    public void Registered_nodes_keep_their_NodeIds()
    {
        NodeId[] nodes = [TestSpace.Signal("N-1/outlet"), new NodeId(99_999)];
        IServiceResponse response = RegisterService.Register(_test.Context(), new() { NodesToRegister = nodes });
        Assert.Equal(nodes, Assert.IsType<RegisterNodesResponse>(response).RegisteredNodeIds!);
        Assert.Equal(StatusCode.Good, Result(RegisterService.Unregister(_test.Context(), new() { NodesToUnregister = nodes })));
        Assert.Equal(StatusCode.BadNodeIdInvalid, Result(RegisterService.Register(_test.Context(), new() { NodesToRegister = [default] })));
    }

    private static StatusCode Result(IServiceResponse response) => response.ResponseHeader.ServiceResult;

    private static Step Element(string? name, ushort ns = 0) => new(name, ns);

    private static BrowsePath Path(uint start, params RelativePathElement[] elements) => new() { StartingNode = new NodeId(start), RelativePath = new RelativePath { Elements = elements } };

    private BrowsePathResult Translate(BrowsePath path) =>
        Assert.Single(Assert.IsType<TranslateBrowsePathsToNodeIdsResponse>(TranslateService.Respond(_test.Context(), new() { BrowsePaths = [path] })).Results!);

    private IEnumerable<NodeId> Follow(uint start, params string[] names)
    {
        BrowsePathResult result = Translate(Path(start, [.. names.Select(name => (RelativePathElement)Element(name))]));
        Assert.Equal(StatusCode.Good, result.StatusCode);
        return result.Targets!.Select(target => target.TargetId.NodeId);
    }

    // One step of a path; the message itself is a class that cannot be copied with changes.
    private sealed record Step(string? Name, ushort NamespaceIndex)
    {
        public NodeId ReferenceTypeId { get; init; } = new(StandardIds.HierarchicalReferences);

        public bool IsInverse { get; init; }

        public bool IncludeSubtypes { get; init; } = true;

        public static implicit operator RelativePathElement(Step step) => new()
        {
            ReferenceTypeId = step.ReferenceTypeId,
            IsInverse = step.IsInverse,
            IncludeSubtypes = step.IncludeSubtypes,
            TargetName = new QualifiedName(step.NamespaceIndex, step.Name),
        };
    }
}
