using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Services;

/// <summary>TranslateBrowsePathsToNodeIds (OPC 10000-4, 5.9.4).</summary>
public static class TranslateService
{
    // Longer paths than the space is deep, and more nodes on the way than a sensible path meets, are refused.
    private const int ElementsMax = 64;
    private const int MatchesMax = 1_000;

    // References looked at for one request; a request that needs more is made to hurt.
    private const int WorkMax = 2_000_000;

    /// <summary>The nodes at the end of each path.</summary>
    public static IServiceResponse Respond(in ServiceContext context, TranslateBrowsePathsToNodeIdsRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        StatusCode status = OperationLimits.Judge(request.BrowsePaths?.Length, context.Limits.NodesPerTranslateBrowsePaths);
        if (status.IsBad())
        {
            return context.Fault(request, status);
        }

        var results = new BrowsePathResult[request.BrowsePaths!.Length];
        int work = WorkMax;
        for (int i = 0; i < results.Length; i++)
        {
            results[i] = Translate(context.Space, request.BrowsePaths[i], ref work);
        }

        return new TranslateBrowsePathsToNodeIdsResponse { ResponseHeader = context.Header(request), Results = results, DiagnosticInfos = [] };
    }

    private static BrowsePathResult Translate(NodeSpace space, BrowsePath path, ref int work)
    {
        RelativePathElement[] elements = path.RelativePath.Elements ?? [];
        StatusCode status = Judge(path.StartingNode, elements);
        Node? start = space.Find(path.StartingNode);
        if (status.IsGood() && start is null)
        {
            status = StatusCode.BadNodeIdUnknown;
        }

        List<Node> ends = status.IsGood() ? Walk(space, start!, elements, ref work, ref status) : [];
        if (status.IsGood() && ends.Count == 0)
        {
            status = StatusCode.BadNoMatch;
        }

        return status.IsGood() ? new BrowsePathResult { Targets = Targets(ends) } : new BrowsePathResult { StatusCode = status, Targets = [] };
    }

    private static StatusCode Judge(in NodeId start, RelativePathElement[] elements)
    {
        if (start.IsNull)
        {
            return StatusCode.BadNodeIdInvalid;
        }

        if (elements.Length == 0)
        {
            return StatusCode.BadNothingToDo;
        }

        return elements.Length > ElementsMax ? StatusCode.BadQueryTooComplex
            : Array.Exists(elements, element => element.TargetName.IsNull) ? StatusCode.BadBrowseNameInvalid
            : StatusCode.Good;
    }

    private static List<Node> Walk(NodeSpace space, Node start, RelativePathElement[] elements, ref int work, ref StatusCode status)
    {
        List<Node> current = [start];
        foreach (RelativePathElement element in elements)
        {
            current = Step(space, current, element, ref work);
            if (current.Count > MatchesMax || work <= 0)
            {
                status = work <= 0 ? StatusCode.BadQueryTooComplex : StatusCode.BadTooManyMatches;
                return [];
            }
        }

        return current;
    }

    private static List<Node> Step(NodeSpace space, List<Node> from, RelativePathElement element, ref int work)
    {
        List<Node> reached = [];
        ReferenceTypeNode? type = null;
        if (!element.ReferenceTypeId.IsNull && !space.TryFind(element.ReferenceTypeId, out type))
        {
            return reached;
        }

        HashSet<Node> seen = [];
        foreach (Node node in from)
        {
            work -= node.References.Length;
            if (work <= 0)
            {
                return reached;
            }

            foreach (Reference reference in node.References)
            {
                bool matches = reference.IsForward != element.IsInverse && reference.Target.BrowseName == element.TargetName
                    && BrowseService.TypeMatches(type, element.IncludeSubtypes, reference.Type);
                if (matches && reached.Count <= MatchesMax && seen.Add(reference.Target))
                {
                    reached.Add(reference.Target);
                }
            }
        }

        return reached;
    }

    // The highest number says that the path was followed to its end (OPC 10000-4, 5.9.4.2).
    private static BrowsePathTarget[] Targets(List<Node> nodes)
    {
        var targets = new BrowsePathTarget[nodes.Count];
        for (int i = 0; i < targets.Length; i++)
        {
            targets[i] = new BrowsePathTarget { TargetId = nodes[i].NodeId, RemainingPathIndex = uint.MaxValue };
        }

        return targets;
    }
}
