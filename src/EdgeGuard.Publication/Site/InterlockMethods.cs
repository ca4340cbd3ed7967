using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Bypass and Unbypass as methods of each function that may be bypassed at all. Bypass asks for a person, a reason and a
/// time, needs the role Supervisor and is executable only where the site file names the function; the guard decides. To
/// end a bypass makes the plant safer, so operators may.
/// </summary>
internal sealed class InterlockMethods(SpaceBuilder builder, UnitTable unit, VariableNode last, GuardCalls calls)
{
    private static readonly Argument MinutesArgument = SpaceBuilder.Scalar("Minutes", StandardIds.UInt32, "How long, from 1; the site file bounds it. Afterwards the function is in force again by itself");

    public void Add()
    {
        for (int id = 1; id < FunctionIds.Count; id++)
        {
            if (FunctionIds.MayBeBypassed((FunctionId)id))
            {
                Add((FunctionId)id, FunctionTexts.Of((FunctionId)id).Code);
            }
        }
    }

    private void Add(FunctionId function, string code)
    {
        Node node = builder.Space.Find(new NodeId(2, $"{unit.Name}/{code}"))!;
        MethodNode bypass = builder.AddMethod(
            node, $"{unit.Name}/{code}/Bypass", "Bypass", (caller, _, arguments) => Bypass(code, caller, arguments), CallerRoles.Supervisor,
            [UnitMethods.Person, UnitMethods.Reason, MinutesArgument], [UnitMethods.Answer], "Take the trip of this function away for a stated time; it goes on being judged and its demands are counted");
        bypass.Refused = (caller, status) => calls.Note($"bypass {unit.Name} {code}", caller, status);
        if (!unit.Bypass.Functions.Contains(function))
        {
            bypass.Handler = null;
        }

        MethodNode unbypass = builder.AddMethod(
            node, $"{unit.Name}/{code}/Unbypass", "Unbypass", (caller, _, arguments) => Unbypass(code, caller, arguments), CallerRoles.Operator | CallerRoles.Supervisor,
            [UnitMethods.Person, UnitMethods.Reason], [UnitMethods.Answer], "End a bypass before its time: the function is in force again with the next scan");
        unbypass.Refused = (caller, status) => calls.Note($"unbypass {unit.Name} {code}", caller, status);
    }

    private CallMethodResult Bypass(string code, CallerContext caller, Variant[] arguments)
    {
        bool timeFits = GuardCalls.TryMinutes(arguments[2], out int minutes);
        return calls.AskSigned(GuardCalls.Signed("bypass", unit.Name, arguments) with { Function = code, Minutes = minutes }, last, caller, timeFits);
    }

    private CallMethodResult Unbypass(string code, CallerContext caller, Variant[] arguments) =>
        calls.AskSigned(GuardCalls.Signed("unbypass", unit.Name, arguments) with { Function = code }, last, caller);
}
