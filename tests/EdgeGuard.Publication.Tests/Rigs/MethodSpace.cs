using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.Publication.Site;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>The address space of a site with its methods, called by a supervisor, in front of a desk that writes down what it is asked.</summary>
internal sealed class MethodSpace : IDisposable
{
    private static readonly CallerContext Anna = new() { Roles = CallerRoles.Supervisor, UserName = "anna", SessionName = "panel 2" };
    private readonly GuardCalls _calls;

    public MethodSpace(SiteTable site)
    {
        StandardNodes.Load(Nodes);
        new SiteSpaceBuilder(new SpaceBuilder(Nodes), site, [], new Dictionary<string, ProofTestFacts>(StringComparer.Ordinal)).Build();
        _calls = new GuardCalls(Desk);
        new UnitMethods(new SpaceBuilder(Nodes), _calls).AddTo(site);
    }

    public NodeSpace Nodes { get; } = new(UaDateTime.FromUnixMs(1_772_000_000_000));

    public Desk Desk { get; } = new();

    public void Dispose() => _calls.Dispose();

    public MethodNode Method(string id) => Assert.IsType<MethodNode>(Nodes.Find(new NodeId(2, id)));

    /// <summary>Calls a method of the first unit: texts, whole numbers, numbers, yes or no.</summary>
    public CallMethodResult Call(string id, params object[] arguments)
    {
        Variant[] inputs = [.. arguments.Select(static a => a switch
        {
            string text => new Variant(text),
            uint number => new Variant(number),
            double value => new Variant(value),
            _ => new Variant((bool)a),
        })];
        return Method(id).Handler!(Anna, Nodes.Find(new NodeId(2, "N-1"))!, inputs);
    }
}
