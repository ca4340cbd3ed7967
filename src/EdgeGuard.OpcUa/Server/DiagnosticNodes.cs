using System.Globalization;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Sessions;
using EdgeGuard.OpcUa.Subscriptions;

namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// The diagnostics that come and go (OPC 10000-5, 6.3.4, 6.3.5, 7.11 to 7.16): an object for each session with its variables,
/// a variable for each subscription, exposed by the arrays that tell the same. The NodeId of a session's object is that of
/// the session (OPC 10000-4, 5.6.2). Everybody may browse them; who may read is as for the arrays, and nothing a client said of
/// itself stands in a name. There are as many as there are sessions and subscriptions, so their quotas bound them. All under
/// the server's gate; who reads takes it too, and nobody else.
/// </summary>
internal sealed class DiagnosticNodes
{
    private const ushort Own = 1;

    private readonly NodeSpace _space;
    private readonly Lock _gate;
    private readonly ObjectNode _summary;
    private readonly VariableNode _sessions;
    private readonly VariableNode _security;
    private readonly VariableNode _subscriptions;
    private readonly ObjectTypeNode _sessionType;
    private readonly VariableTypeNode _arrayType;
    private readonly ReferenceTypeNode _hasComponent;
    private readonly ReferenceTypeNode _hasTypeDefinition;
    private readonly DiagnosticTemplate<SessionDiagnosticsDataType> _ofSession;
    private readonly DiagnosticTemplate<SessionSecurityDiagnosticsDataType> _ofSecurity;
    private readonly DiagnosticTemplate<SubscriptionDiagnosticsDataType> _ofSubscription;

    /// <summary>For a space that holds the standard nodes.</summary>
    public DiagnosticNodes(NodeSpace space, Lock gate)
    {
        (_space, _gate) = (space, gate);
        _summary = space.Standard<ObjectNode>(StandardIds.SessionsDiagnosticsSummary);
        _sessions = space.Standard<VariableNode>(StandardIds.SessionDiagnosticsArray);
        _security = space.Standard<VariableNode>(StandardIds.SessionSecurityDiagnosticsArray);
        _subscriptions = space.Standard<VariableNode>(StandardIds.SubscriptionDiagnosticsArray);
        _sessionType = space.Standard<ObjectTypeNode>(StandardIds.SessionDiagnosticsObjectType);
        _arrayType = space.Standard<VariableTypeNode>(StandardIds.SubscriptionDiagnosticsArrayType);
        _hasComponent = space.Standard<ReferenceTypeNode>(StandardIds.HasComponent);
        _hasTypeDefinition = space.Standard<ReferenceTypeNode>(StandardIds.HasTypeDefinition);
        _ofSession = new(space, StandardIds.SessionDiagnosticsVariableType, DiagnosticFields.Session);
        _ofSecurity = new(space, StandardIds.SessionSecurityDiagnosticsType, DiagnosticFields.Security);
        _ofSubscription = new(space, StandardIds.SubscriptionDiagnosticsType, DiagnosticFields.Subscription);
    }

    /// <summary>A session was made.</summary>
    public void Add(UaSession session)
    {
        string number = session.SessionId.Number.ToString(CultureInfo.InvariantCulture);
        string id = $"session/{number}";
        string name = $"Session {number}";
        var root = new ObjectNode(session.SessionId, new QualifiedName(Own, name), new LocalizedText(name)) { IsTransient = true };
        List<Node> made = [root];
        VariableNode diagnostics = _ofSession.Make(
            $"{id}/SessionDiagnostics", new QualifiedName("SessionDiagnostics"), ServerObject.Diagnosticians, () => Told(session, ServerDiagnostics.Describe), [root, _sessions], made);
        VariableNode security = _ofSecurity.Make(
            $"{id}/SessionSecurityDiagnostics", new QualifiedName("SessionSecurityDiagnostics"), ServerObject.SecurityDiagnosticians, () => Told(session, ServerDiagnostics.DescribeSecurity), [root, _security], made);
        VariableNode subscriptions = MakeArray($"{id}/SubscriptionDiagnosticsArray", session, root);
        made.Add(subscriptions);
        root.SetReferences(
        [
            new Reference(_hasTypeDefinition, true, _sessionType),
            new Reference(_hasComponent, false, _summary),
            new Reference(_hasComponent, true, diagnostics),
            new Reference(_hasComponent, true, security),
            new Reference(_hasComponent, true, subscriptions),
        ]);
        session.Nodes = new SessionNodes(made, [(_summary, root), (_sessions, diagnostics), (_security, security)], subscriptions);
        _space.AddTransient(made, _hasComponent, session.Nodes.Links);
    }

    /// <summary>A session has ended, and its subscriptions are gone or without a session.</summary>
    public void Remove(UaSession session)
    {
        if (session.Nodes is { } nodes)
        {
            session.Nodes = null;
            _space.RemoveTransient(nodes.All, nodes.Links);
        }
    }

    /// <summary>A session made a subscription.</summary>
    public void Add(UaSubscription subscription)
    {
        string number = subscription.Id.ToString(CultureInfo.InvariantCulture);
        VariableNode ofSession = subscription.Session!.Nodes!.Subscriptions;
        List<Node> made = [];
        VariableNode root = _ofSubscription.Make(
            $"subscription/{number}", new QualifiedName(Own, number), ServerObject.Diagnosticians, () => Told(subscription, ServerDiagnostics.Describe), [_subscriptions, ofSession], made);
        subscription.Nodes = new SubscriptionNodes(made, root);
        _space.AddTransient(made, _hasComponent, (_subscriptions, root), (ofSession, root));
    }

    /// <summary>A subscription goes over to another session, or is left without one; to be called while it still has the former.</summary>
    public void Move(UaSubscription subscription, UaSession? to)
    {
        VariableNode root = subscription.Nodes!.Root;
        if (subscription.Session?.Nodes is { } left)
        {
            _space.RemoveReferences(left.Subscriptions, root);
        }

        if (to is not null)
        {
            _space.AddReference(to.Nodes!.Subscriptions, _hasComponent, root);
        }
    }

    /// <summary>A subscription is deleted; to be called while it still has its session.</summary>
    public void Remove(UaSubscription subscription)
    {
        if (subscription.Nodes is { } nodes)
        {
            Move(subscription, null);
            subscription.Nodes = null;
            _space.RemoveTransient(nodes.All, (_subscriptions, nodes.Root));
        }
    }

    private VariableNode MakeArray(string id, UaSession session, ObjectNode root)
    {
        const string Name = "SubscriptionDiagnosticsArray";
        var array = new VariableNode(new NodeId(Own, id), new QualifiedName(Name), new LocalizedText(Name))
        {
            IsTransient = true,
            DataType = _arrayType.DataType,
            ValueRank = _arrayType.ValueRank,
            ArrayDimensions = _arrayType.ArrayDimensions,
            ReadRoles = ServerObject.Diagnosticians,
            Provider = new DiagnosticProvider<ExtensionObject[]>(() => Told(session, Subscriptions), static objects => Variant.FromArray(BuiltInType.ExtensionObject, objects)),
        };
        array.SetReferences([new Reference(_hasTypeDefinition, true, _arrayType), new Reference(_hasComponent, false, root)]);
        return array;
    }

    private static ExtensionObject[] Subscriptions(UaSession session) => [.. session.Subscriptions.Select(static subscription => new ExtensionObject(ServerDiagnostics.Describe(subscription)))];

    private T Told<TOf, T>(TOf of, Func<TOf, T> describe)
    {
        lock (_gate)
        {
            return describe(of);
        }
    }
}
