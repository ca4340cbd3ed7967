using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Services;

/// <summary>Browse and BrowseNext (OPC 10000-4, 5.9.2 and 5.9.3). There are no views, so naming one is refused.</summary>
public static class BrowseService
{
    // References in one answer, however many nodes were asked for: bounds the memory one request can take. A node that
    // finds nothing left gets a continuation point, while there are any.
    internal const int ReferencesPerResponseMax = 20_000;

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
        int budget = ReferencesPerResponseMax;
        var results = new BrowseResult[request.NodesToBrowse!.Length];
        for (int i = 0; i < results.Length; i++)
        {
            results[i] = Start(context.Space, points, request.NodesToBrowse[i], most, ref budget);
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
        int budget = ReferencesPerResponseMax;
        var results = new BrowseResult[request.ContinuationPoints!.Length];
        for (int i = 0; i < results.Length; i++)
        {
            bool known = points.TryTake(request.ContinuationPoints[i], out BrowsePoint point);
            results[i] = known && !request.ReleaseContinuationPoints ? Collect(points, point, ref budget) : Empty(known ? StatusCode.Good : StatusCode.BadContinuationPointInvalid);
        }

        return new BrowseNextResponse { ResponseHeader = context.Header(request), Results = results, DiagnosticInfos = [] };
    }

    private static int ReferencesMax(uint requested, OperationLimits limits)
    {
        uint own = limits.ReferencesPerNode == 0 ? int.MaxValue : limits.ReferencesPerNode;
        return (int)Math.Min(requested == 0 ? own : Math.Min(requested, own), int.MaxValue);
    }

    private static BrowseResult Start(NodeSpace space, BrowsePointStore points, in BrowseDescription wanted, int most, ref int budget)
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

        return Collect(points, new BrowsePoint(node.ReferenceList, wanted, type, 0, most), ref budget);
    }

    // Counted first, so that the array has the right size and nodes with thousands of references cost nothing unless asked.
    private static BrowseResult Collect(BrowsePointStore points, in BrowsePoint point, ref int budget)
    {
        int found = Scan(point, Math.Min(point.ReferencesMax, budget), out int next);
        byte[]? rest = null;
        if (next >= 0)
        {
            if (!points.HasRoom)
            {
                return Empty(StatusCode.BadNoContinuationPoints);
            }

            rest = points.Add(point with { Next = next });
        }

        budget -= found;
        return new BrowseResult { References = Take(point, found), ContinuationPoint = rest };
    }

    // How many references match, up to a number, and the index of the first match beyond it, or -1.
    private static int Scan(in BrowsePoint point, int most, out int next)
    {
        int found = 0;
        ReadOnlySpan<Reference> all = point.References.Items;
        for (next = point.Next; next < all.Length; next++)
        {
            if (Matches(point, all[next]) && found++ == most)
            {
                return most;
            }
        }

        next = -1;
        return found;
    }

    private static ReferenceDescription[] Take(in BrowsePoint point, int count)
    {
        var taken = new ReferenceDescription[count];
        ReadOnlySpan<Reference> all = point.References.Items;
        for (int i = point.Next, at = 0; at < count; i++)
        {
            if (Matches(point, all[i]))
            {
                // Bits without a meaning are passed over; the cast is unchecked because the client chooses them.
                taken[at++] = Describe(all[i], unchecked((BrowseResultMask)point.Filter.ResultMask));
            }
        }

        return taken;
    }

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
