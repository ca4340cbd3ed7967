using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Services;

/// <summary>Browse and BrowseNext (OPC 10000-4, 5.9.2 and 5.9.3). There are no views, so naming one is refused.</summary>
public static class BrowseService
{
    /// <summary>References of each node asked for.</summary>
    /// <param name="context">Space, caller, time, limits.</param>
    /// <param name="points">Continuation points of the session.</param>
    /// <param name="request">The request.</param>
    public static IServiceResponse Browse(in ServiceContext context, BrowsePointStore points, BrowseRequest request)
    {
        ArgumentNullException.ThrowIfNull(points);
        ArgumentNullException.ThrowIfNull(request);
        StatusCode status = OperationLimits.Judge(request.NodesToBrowse?.Length, context.Limits.NodesPerBrowse);
        if (status.IsGood() && !request.View.ViewId.IsNull)
        {
            status = StatusCode.BadViewIdUnknown;
        }

        if (status.IsBad())
        {
            return context.Fault(request, status);
        }

        points.BeginRequest();
        int most = ReferencesMax(request.RequestedMaxReferencesPerNode, context.Limits);
        var results = new BrowseResult[request.NodesToBrowse!.Length];
        for (int i = 0; i < results.Length; i++)
        {
            results[i] = Start(context.Space, points, request.NodesToBrowse[i], most);
        }

        return new BrowseResponse { ResponseHeader = context.Header(request), Results = results, DiagnosticInfos = [] };
    }

    /// <summary>Goes on at continuation points, or releases them.</summary>
    public static IServiceResponse BrowseNext(in ServiceContext context, BrowsePointStore points, BrowseNextRequest request)
    {
        ArgumentNullException.ThrowIfNull(points);
        ArgumentNullException.ThrowIfNull(request);
        StatusCode status = OperationLimits.Judge(request.ContinuationPoints?.Length, context.Limits.NodesPerBrowse);
        if (status.IsBad())
        {
            return context.Fault(request, status);
        }

        points.BeginRequest();
        var results = new BrowseResult[request.ContinuationPoints!.Length];
        for (int i = 0; i < results.Length; i++)
        {
            bool known = points.TryTake(request.ContinuationPoints[i], out BrowsePoint point);
            results[i] = known && !request.ReleaseContinuationPoints ? Collect(points, point) : Empty(known ? StatusCode.Good : StatusCode.BadContinuationPointInvalid);
        }

        return new BrowseNextResponse { ResponseHeader = context.Header(request), Results = results, DiagnosticInfos = [] };
    }

    private static int ReferencesMax(uint requested, OperationLimits limits)
    {
        uint own = limits.ReferencesPerNode == 0 ? int.MaxValue : limits.ReferencesPerNode;
        return (int)Math.Min(requested == 0 ? own : Math.Min(requested, own), int.MaxValue);
    }

    private static BrowseResult Start(NodeSpace space, BrowsePointStore points, in BrowseDescription wanted, int most)
    {
        if (space.Find(wanted.NodeId) is not { } node)
        {
            return Empty(StatusCode.BadNodeIdUnknown);
        }

        if (wanted.BrowseDirection is < BrowseDirection.Forward or > BrowseDirection.Both)
        {
            return Empty(StatusCode.BadBrowseDirectionInvalid);
        }

        ReferenceTypeNode? type = null;
        if (!wanted.ReferenceTypeId.IsNull && !space.TryFind(wanted.ReferenceTypeId, out type))
        {
            return Empty(StatusCode.BadReferenceTypeIdInvalid);
        }

        return Collect(points, new BrowsePoint(node.ReferenceList, wanted, type, 0, most));
    }

    private static BrowseResult Collect(BrowsePointStore points, in BrowsePoint point)
    {
        ReadOnlySpan<Reference> all = point.References.Items;
        List<ReferenceDescription> found = new(Math.Min(point.ReferencesMax, all.Length - point.Next));
        for (int i = point.Next; i < all.Length; i++)
        {
            if (!Matches(point, all[i]))
            {
                continue;
            }

            if (found.Count == point.ReferencesMax)
            {
                return Interrupt(points, point with { Next = i }, found);
            }

            found.Add(Describe(all[i], (BrowseResultMask)point.Filter.ResultMask));
        }

        return new BrowseResult { References = [.. found] };
    }

    private static BrowseResult Interrupt(BrowsePointStore points, in BrowsePoint rest, List<ReferenceDescription> found) =>
        points.HasRoom ? new BrowseResult { References = [.. found], ContinuationPoint = points.Add(rest) } : Empty(StatusCode.BadNoContinuationPoints);

    private static BrowseResult Empty(StatusCode status) => new() { StatusCode = status, References = [] };

    private static bool Matches(in BrowsePoint point, in Reference reference)
    {
        BrowseDirection direction = point.Filter.BrowseDirection;
        bool isWanted = direction == BrowseDirection.Both || (direction == BrowseDirection.Forward) == reference.IsForward;
        uint mask = point.Filter.NodeClassMask;
        return isWanted && (mask == 0 || ((uint)reference.Target.NodeClass & mask) != 0) && TypeMatches(point.Type, point.Filter.IncludeSubtypes, reference.Type);
    }

    internal static bool TypeMatches(ReferenceTypeNode? wanted, bool includeSubtypes, ReferenceTypeNode type) =>
        wanted is null || ReferenceEquals(wanted, type) || (includeSubtypes && type.IsOrDerivesFrom(wanted));

    private static ReferenceDescription Describe(in Reference reference, BrowseResultMask mask)
    {
        Node target = reference.Target;
        bool hasTypeDefinition = mask.HasFlag(BrowseResultMask.TypeDefinition) && target.TypeDefinition is not null;
        return new ReferenceDescription
        {
            ReferenceTypeId = mask.HasFlag(BrowseResultMask.ReferenceTypeId) ? reference.Type.NodeId : default,
            IsForward = mask.HasFlag(BrowseResultMask.IsForward) && reference.IsForward,
            NodeId = target.NodeId,
            NodeClass = mask.HasFlag(BrowseResultMask.NodeClass) ? target.NodeClass : NodeClass.Unspecified,
            BrowseName = mask.HasFlag(BrowseResultMask.BrowseName) ? target.BrowseName : default,
            DisplayName = mask.HasFlag(BrowseResultMask.DisplayName) ? target.DisplayName : default,
            TypeDefinition = hasTypeDefinition ? target.TypeDefinition!.NodeId : default(NodeId),
        };
    }
}
