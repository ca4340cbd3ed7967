using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Force and Unforce as methods of each signal that the site lets be forced. Force asks for a person, a reason, a value and
/// a time and needs the role Supervisor, as a bypass does; the guard decides. To end a force makes the plant safer, so
/// operators may.
/// </summary>
internal sealed class ForceMethods(SpaceBuilder builder, UnitTable unit, VariableNode last, GuardCalls calls)
{
    private static readonly Argument MinutesArgument = SpaceBuilder.Scalar("Minutes", StandardIds.UInt32, "How long, from 1; the site file bounds it. Afterwards the real value is judged again by itself");

    private static readonly Argument ValueArgument = SpaceBuilder.Scalar("Value", StandardIds.Double, "The value to judge meanwhile, in the unit of the signal; the site file bounds it");

    public void Add()
    {
        foreach (ForcibleSignal forcible in unit.Force.Signals)
        {
            string name = forcible.Role.ToString();
            if (builder.Space.Find(new NodeId(2, $"{unit.Name}/forces/{name}")) is { } node)
            {
                Add(node, name);
            }
        }
    }

    private void Add(Node node, string signal)
    {
        string at = $"{unit.Name}/forces/{signal}";
        MethodNode force = builder.AddMethod(
            node, at + "/Force", "Force", (caller, _, arguments) => Force(signal, caller, arguments), CallerRoles.Supervisor,
            [UnitMethods.Person, UnitMethods.Reason, ValueArgument, MinutesArgument], [UnitMethods.Answer], "Judge this value in place of the real one for a stated time; what the real one demands is counted and trips nothing");
        force.Refused = (caller, status) => calls.Note($"force {unit.Name} {signal}", caller, status);
        MethodNode unforce = builder.AddMethod(
            node, at + "/Unforce", "Unforce", (caller, _, arguments) => Unforce(signal, caller, arguments), CallerRoles.Operator | CallerRoles.Supervisor,
            [UnitMethods.Person, UnitMethods.Reason], [UnitMethods.Answer], "End a force before its time: the real value is judged from the next scan on");
        unforce.Refused = (caller, status) => calls.Note($"unforce {unit.Name} {signal}", caller, status);
    }

    private CallMethodResult Force(string signal, CallerContext caller, Variant[] arguments)
    {
        double value = arguments[2].AsDouble;
        bool timeFits = GuardCalls.TryMinutes(arguments[3], out int minutes);
        return calls.AskSigned(GuardCalls.Signed("force", unit.Name, arguments) with { Signal = signal, Value = value, Minutes = minutes }, last, caller, double.IsFinite(value), timeFits);
    }

    private CallMethodResult Unforce(string signal, CallerContext caller, Variant[] arguments) =>
        calls.AskSigned(GuardCalls.Signed("unforce", unit.Name, arguments) with { Signal = signal }, last, caller);
}
