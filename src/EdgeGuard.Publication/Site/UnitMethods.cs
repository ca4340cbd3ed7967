using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Requests to the guard as methods of each unit, with a reason that goes into the journal. Reset is executable only where
/// the site allows it from afar.
/// </summary>
internal sealed class UnitMethods(SpaceBuilder builder, GuardCalls calls)
{
    private const CallerRoles Operators = CallerRoles.Operator | CallerRoles.Supervisor;

    /// <summary>The argument every request has.</summary>
    internal static Argument Reason { get; } = SpaceBuilder.Scalar("Reason", StandardIds.String, "Why, for the journal");

    /// <summary>Who signs, where it matters who.</summary>
    internal static Argument Person { get; } = SpaceBuilder.Scalar("Person", StandardIds.String, "Who decides it, for the journal; the user of the session stands behind it");

    /// <summary>What every request gives back.</summary>
    internal static Argument Answer { get; } = SpaceBuilder.Scalar("Answer", StandardIds.String, "The guard's answer");

    public void AddTo(SiteTable site)
    {
        foreach (UnitTable unit in site.Units)
        {
            Node node = builder.Space.Find(new NodeId(2, unit.Name))!;
            VariableNode last = builder.AddVariable(node, new VariableSpec(unit.Name + "/LastAnswer", "LastAnswer", new NodeId(StandardIds.String)) { Description = "The guard's answer to the last request made here" });
            last.Set(new Variant(""), builder.Space.StartTime);
            AddRequests(node, unit, last);
            AddClassify(node, unit.Name, last);
            new InterlockMethods(builder, unit, last, calls).Add();
            new ForceMethods(builder, unit, last, calls).Add();
            new AlarmMethods(builder, unit, last, calls).Add();
        }
    }

    private void AddRequests(Node node, UnitTable unit, VariableNode last)
    {
        foreach ((string name, string kind, string description, CallerRoles roles) in Kinds)
        {
            MethodNode method = builder.AddMethod(node, $"{unit.Name}/{name}", name, (caller, _, arguments) => Ask(kind, unit.Name, last, caller, arguments[0].AsString), roles, [Reason], [Answer], description);
            method.Refused = (caller, status) => calls.Note($"{kind} {unit.Name}", caller, status);
            if (string.Equals(kind, "reset", StringComparison.Ordinal) && !unit.RemoteReset)
            {
                method.Handler = null;
            }
        }
    }

    private void AddClassify(Node node, string unit, VariableNode last)
    {
        Argument spurious = SpaceBuilder.Scalar("Spurious", StandardIds.Boolean, "True: nothing was wrong. False: the trip had a cause");
        MethodNode method = builder.AddMethod(
            node, unit + "/ClassifyTrip", "ClassifyTrip", (caller, _, arguments) => Classify(unit, last, caller, arguments), Operators, [Person, Reason, spurious], [Answer],
            "Say what the latest trip was, for its counters; changes nothing else");
        method.Refused = (caller, status) => calls.Note("classify " + unit, caller, status);
    }

    private static readonly (string Name, string Kind, string Description, CallerRoles Roles)[] Kinds =
    [
        ("Acknowledge", "acknowledge", "Acknowledge alarms and trip; changes no output", Operators),
        ("Start", "start", "Begin pre-flow and then heating", Operators),
        ("Stop", "stop", "Remove power now and cool with gas", Operators),
        ("Cool", "cool", "Powered cool-down at the cap, then removal of power", Operators),
        ("Reset", "reset", "Clear a latched trip whose cause is gone; never starts heating", CallerRoles.Supervisor),
    ];

    private CallMethodResult Ask(string kind, string unit, VariableNode last, CallerContext caller, string? reason) =>
        calls.Refusal($"{kind} {unit}", caller, GuardCalls.IsText(reason))
        ?? calls.Ask(new GuardRequest(kind, unit, "", reason!), last, caller);

    private CallMethodResult Classify(string unit, VariableNode last, CallerContext caller, Variant[] arguments) =>
        calls.AskSigned(GuardCalls.Signed("classify", unit, arguments) with { Class = arguments[2].AsBoolean ? "spurious" : "genuine" }, last, caller, true);
}
