using CsCheck;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Services;
using EdgeGuard.OpcUa.Tests.AddressSpace;

namespace EdgeGuard.OpcUa.Tests.View;

/// <summary>Browse and BrowseNext (OPC 10000-4, 5.9.2, 5.9.3 and 7.9; contract point 13).</summary>
public sealed class BrowseTests
{
    private readonly TestSpace _test = new();
    private readonly BrowsePointStore _points = new(5);

    [Fact]
    public void The_whole_space_can_be_walked_without_an_error()
    {
        HashSet<NodeId> seen = [new NodeId(StandardIds.RootFolder)];
        Queue<NodeId> queue = new(seen);
        while (queue.TryDequeue(out NodeId nodeId))
        {
            BrowseResult result = Browse(All(nodeId));
            Assert.Equal((StatusCode.Good, true), (result.StatusCode, result.ContinuationPoint is null || result.References!.Length == 1_000));
            foreach (ReferenceDescription reference in Rest(result))
            {
                Assert.True(reference.NodeId.IsLocal && !reference.BrowseName.IsNull && reference.DisplayName.Text is not null);
                Assert.Equal(reference.NodeClass is NodeClass.Object or NodeClass.Variable, !reference.TypeDefinition.NodeId.IsNull);
                if (seen.Add(reference.NodeId.NodeId))
                {
                    queue.Enqueue(reference.NodeId.NodeId);
                }
            }
        }

        Assert.Equal(_test.Space.Count, seen.Count);
        Assert.Equal(0, _points.Count);
    }

    [Fact]
    public void Contract_point_13_parts_join_to_the_whole()
    {
        NodeId[] nodes = [.. _test.Space.Snapshot().Where(node => node.References.Length is > 3 and < 200).Select(node => node.NodeId)];
        Gen.Select(Gen.Int[0, nodes.Length - 1], Gen.UInt[1, 3], Gen.Enum<BrowseDirection>()).Sample((index, most, direction) =>
        {
            BrowseDescription wanted = All(nodes[index]) with { BrowseDirection = direction == BrowseDirection.Invalid ? BrowseDirection.Both : direction };
            ReferenceDescription[] whole = Browse(wanted).References!;
            ReferenceDescription[] joined = [.. Rest(Browse(wanted, most), most)];
            return Keys(whole).SequenceEqual(Keys(joined)) && _points.Count == 0;
        }, iter: 500, threads: 1);
    }

    [Fact]
    public void Direction_type_and_class_filter()
    {
        NodeId unit = TestSpace.Signal("N-1");
        Assert.Equal(["Objects"], Names(All(unit) with { BrowseDirection = BrowseDirection.Inverse }));
        Assert.Equal(["reset"], Names(All(unit) with { NodeClassMask = (uint)NodeClass.Method }));
        Assert.Equal(["FolderType"], Names(All(unit) with { ReferenceTypeId = new NodeId(StandardIds.HasTypeDefinition) }));
        Assert.Empty(Names(All(unit) with { ReferenceTypeId = new NodeId(StandardIds.HierarchicalReferences), IncludeSubtypes = false }));
        Assert.Equal(["outlet", "flow", "enable", "mode", "trip", "note", "profile", "reset"], Names(All(unit) with { ReferenceTypeId = new NodeId(StandardIds.HierarchicalReferences) }));
    }

    [Fact]
    public void Only_the_fields_asked_for_are_filled()
    {
        BrowseDescription wanted = All(TestSpace.Signal("N-1")) with { ResultMask = 0, NodeClassMask = (uint)NodeClass.Method };
        ReferenceDescription bare = Assert.Single(Browse(wanted).References!);
        Assert.Equal(TestSpace.Signal("N-1/reset"), bare.NodeId.NodeId);
        Assert.True(bare.ReferenceTypeId.IsNull && bare.BrowseName.IsNull && bare.DisplayName.Text is null && bare.NodeClass == NodeClass.Unspecified && !bare.IsForward);
        ReferenceDescription full = Assert.Single(Browse(wanted with { ResultMask = 63 }).References!);
        Assert.True(full.IsForward && full.ReferenceTypeId.IsStandard(StandardIds.HasComponent) && full.BrowseName == new QualifiedName(2, "reset"));
    }

    [Theory]
    [InlineData(99_999, 0, 0, StatusCode.BadNodeIdUnknown)]
    [InlineData(85, 3, 0, StatusCode.BadBrowseDirectionInvalid)]
    [InlineData(85, -1, 0, StatusCode.BadBrowseDirectionInvalid)]
    [InlineData(85, 0, 58, StatusCode.BadReferenceTypeIdInvalid)]
    [InlineData(85, 0, 99_999, StatusCode.BadReferenceTypeIdInvalid)]
    public void Wrong_descriptions_are_refused_one_by_one(uint node, int direction, uint type, StatusCode expected)
    {
        BrowseResult result = Browse(new BrowseDescription { NodeId = new NodeId(node), BrowseDirection = (BrowseDirection)direction, ReferenceTypeId = new NodeId(type) });
        Assert.Equal(expected, result.StatusCode);
        Assert.Empty(result.References!);
    }

    [Fact]
    public void Contract_point_13_a_released_or_foreign_point_is_invalid()
    {
        byte[] point = Browse(All(new NodeId(85)), 1).ContinuationPoint!;
        var other = new BrowsePointStore(5);
        Assert.Equal(StatusCode.BadContinuationPointInvalid, Next(other, false, point)[0].StatusCode);
        BrowseResult released = Next(_points, true, point)[0];
        Assert.Equal((StatusCode.Good, 0, true), (released.StatusCode, released.References!.Length, released.ContinuationPoint is null));
        Assert.Equal(StatusCode.BadContinuationPointInvalid, Next(_points, false, point)[0].StatusCode);
        Assert.Equal(StatusCode.BadContinuationPointInvalid, Next(_points, true, point)[0].StatusCode);
        Assert.Equal(StatusCode.BadContinuationPointInvalid, Next(_points, false, [Array.Empty<byte>()])[0].StatusCode);
        Assert.Equal(StatusCode.BadContinuationPointInvalid, Next(_points, false, [null])[0].StatusCode);
    }

    [Fact]
    public void A_used_point_is_not_valid_again()
    {
        byte[] first = Browse(All(new NodeId(85)), 1).ContinuationPoint!;
        Assert.Equal(StatusCode.Good, Next(_points, false, first)[0].StatusCode);
        Assert.Equal(StatusCode.BadContinuationPointInvalid, Next(_points, false, first)[0].StatusCode);
    }

    [Fact]
    public void Contract_point_13_five_points_are_held_and_one_request_gets_no_more()
    {
        BrowseDescription[] six = [.. Enumerable.Repeat(All(new NodeId(85)), 6)];
        BrowseResult[] results = Respond(six, 1);
        Assert.All(results[..5], result => Assert.Equal((StatusCode.Good, 8), (result.StatusCode, result.ContinuationPoint!.Length)));
        Assert.Equal(StatusCode.BadNoContinuationPoints, results[5].StatusCode);
        Assert.Equal(5, results[..5].Select(r => Convert.ToHexString(r.ContinuationPoint!)).Distinct().Count());
    }

    [Fact]
    public void A_new_request_pushes_out_the_oldest_point()
    {
        byte[][] held = [.. Enumerable.Range(0, 6).Select(_ => Browse(All(new NodeId(85)), 1).ContinuationPoint!)];
        Assert.Equal(5, _points.Count);
        Assert.Equal(StatusCode.BadContinuationPointInvalid, Next(_points, true, held[0])[0].StatusCode);
        Assert.All(Next(_points, true, held[1..]), result => Assert.Equal(StatusCode.Good, result.StatusCode));
    }

    [Fact]
    public void References_added_in_between_neither_repeat_nor_lose_one()
    {
        BrowseDescription wanted = All(TestSpace.Signal("N-1"));
        ReferenceDescription[] whole = Browse(wanted).References!;
        BrowseResult first = Browse(wanted, 2);
        _test.Builder.AddFolder(_test.Space.Find(TestSpace.Signal("N-1"))!, "N-1/late", "late");
        _test.Space.Remove(_test.Space.Find(TestSpace.Signal("N-1/outlet"))!);
        Assert.Equal(Keys(whole), Keys([.. Rest(first, 2)]));
    }

    [Fact]
    public void Contract_point_5_limits_and_views()
    {
        _test.Limits = new OperationLimits { NodesPerBrowse = 1, ReferencesPerNode = 2 };
        BrowseResult capped = Browse(All(new NodeId(85)));
        Assert.Equal(2, capped.References!.Length);
        Assert.NotNull(capped.ContinuationPoint);
        Assert.Equal(StatusCode.BadTooManyOperations, Fault(new BrowseRequest { NodesToBrowse = [All(new NodeId(85)), All(new NodeId(85))] }));
        Assert.Equal(StatusCode.BadNothingToDo, Fault(new BrowseRequest()));
        Assert.Equal(StatusCode.BadViewIdUnknown, Fault(new BrowseRequest { View = new ViewDescription { ViewId = new NodeId(85) }, NodesToBrowse = [All(new NodeId(85))] }));
        IServiceResponse none = BrowseService.BrowseNext(_test.Context(), _points, new BrowseNextRequest());
        Assert.Equal(StatusCode.BadNothingToDo, Assert.IsType<ServiceFault>(none).ResponseHeader.ServiceResult);
    }

    [Fact]
    public void One_request_cannot_take_memory_without_end()
    {
        // Mandatory (i=78) is the node with the most references of the standard.
        BrowseDescription[] greedy = [.. Enumerable.Repeat(All(new NodeId(78)) with { BrowseDirection = BrowseDirection.Both }, 2_000)];
        long before = GC.GetAllocatedBytesForCurrentThread();
        BrowseResult[] results = Respond(greedy, 0);
        long took = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(results.Sum(r => r.References!.Length) <= BrowseService.ReferencesPerResponseMax);
        Assert.Equal(StatusCode.BadNoContinuationPoints, results[^1].StatusCode);
        Assert.True(took < 10_000_000, $"{took} bytes");
    }

    [Fact]
    public void Nodes_beyond_the_budget_of_an_answer_go_on_in_the_next()
    {
        var many = new BrowsePointStore(100);
        _test.Limits = new OperationLimits { ReferencesPerNode = 0 };
        NodeId mandatory = new(78);
        int whole = _test.Space.Find(mandatory)!.References.Length;
        BrowseDescription[] wanted = [.. Enumerable.Repeat(All(mandatory) with { BrowseDirection = BrowseDirection.Both }, (BrowseService.ReferencesPerResponseMax / whole) + 2)];
        var first = Assert.IsType<BrowseResponse>(BrowseService.Browse(_test.Context(), many, new BrowseRequest { NodesToBrowse = wanted }));
        BrowseResult last = first.Results![^1];
        Assert.Equal((StatusCode.Good, 0, true), (last.StatusCode, last.References!.Length, last.ContinuationPoint is not null));
        Assert.Equal(whole, Next(many, false, last.ContinuationPoint)[0].References!.Length);
    }

    private static BrowseDescription All(NodeId nodeId) => new() { NodeId = nodeId, BrowseDirection = BrowseDirection.Forward, IncludeSubtypes = true, ResultMask = 63 };

    private static IEnumerable<(NodeId, bool, NodeId)> Keys(ReferenceDescription[] references) => references.Select(r => (r.ReferenceTypeId, r.IsForward, r.NodeId.NodeId));

    private IEnumerable<string?> Names(BrowseDescription wanted) => Browse(wanted).References!.Where(r => wanted.BrowseDirection != BrowseDirection.Forward || wanted.NodeClassMask != 0 || !wanted.ReferenceTypeId.IsNull).Select(r => r.BrowseName.Name);

    private BrowseResult[] Respond(BrowseDescription[] wanted, uint most) =>
        Assert.IsType<BrowseResponse>(BrowseService.Browse(_test.Context(), _points, new BrowseRequest { NodesToBrowse = wanted, RequestedMaxReferencesPerNode = most })).Results!;

    private BrowseResult Browse(BrowseDescription wanted, uint most = 0) => Respond([wanted], most)[0];

    private StatusCode Fault(BrowseRequest request) => Assert.IsType<ServiceFault>(BrowseService.Browse(_test.Context(), _points, request)).ResponseHeader.ServiceResult;

    private BrowseResult[] Next(BrowsePointStore points, bool release, params byte[]?[] ids) =>
        Assert.IsType<BrowseNextResponse>(BrowseService.BrowseNext(_test.Context(), points, new BrowseNextRequest { ReleaseContinuationPoints = release, ContinuationPoints = ids })).Results!;

    private IEnumerable<ReferenceDescription> Rest(BrowseResult first, uint most = 1_000)
    {
        for (BrowseResult result = first; ; result = Next(_points, false, result.ContinuationPoint)[0])
        {
            Assert.Equal(StatusCode.Good, result.StatusCode);
            Assert.True(result.References!.Length <= most);
            foreach (ReferenceDescription reference in result.References)
            {
                yield return reference;
            }

            if (result.ContinuationPoint is null)
            {
                yield break;
            }
        }
    }
}
