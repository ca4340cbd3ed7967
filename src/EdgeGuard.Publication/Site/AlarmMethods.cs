using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// The methods of OPC 10000-9 by which people hide an alarm and show it again, where the site lets it be hidden at all:
/// TimedShelve and Unshelve, RemoveFromService and PlaceInService. All of them are signed; the guard decides. To shelve is
/// an operator's act, to take out of service a supervisor's, and to show an alarm again anybody's who may operate.
/// </summary>
internal sealed class AlarmMethods(SpaceBuilder builder, UnitTable unit, VariableNode last, GuardCalls calls)
{
    private const CallerRoles Operators = CallerRoles.Operator | CallerRoles.Supervisor;

    private static readonly Argument MinutesArgument = SpaceBuilder.Scalar("Minutes", StandardIds.UInt32, "How long, from 1; the site file bounds it. Afterwards the alarm is shown again by itself");

    public void Add()
    {
        for (int id = 0; id < FunctionIds.Count; id++)
        {
            if (unit.Shelf.MayHide((FunctionId)id))
            {
                Add(AlarmTexts.CodeOf((FunctionId)id));
            }
        }
    }

    private void Add(string alarm)
    {
        Node node = builder.Space.Find(new NodeId(2, $"{unit.Name}/{alarm}"))!;
        if (unit.Shelf.MaxMinutes > 0)
        {
            Add(node, alarm, "TimedShelve", "shelve", Operators, [UnitMethods.Person, UnitMethods.Reason, MinutesArgument], "Shelve its alarm for a stated time; what it tells of goes on being judged");
            Add(node, alarm, "Unshelve", "unshelve", Operators, [UnitMethods.Person, UnitMethods.Reason], "Take its alarm from the shelf before its time");
        }

        if (unit.Shelf.OutOfService)
        {
            Add(node, alarm, "RemoveFromService", "outofservice", CallerRoles.Supervisor, [UnitMethods.Person, UnitMethods.Reason], "Take its alarm out of service, until it is placed back or the guard is started again");
            Add(node, alarm, "PlaceInService", "inservice", Operators, [UnitMethods.Person, UnitMethods.Reason], "Place its alarm in service again");
        }
    }

    private void Add(Node node, string alarm, string name, string kind, CallerRoles roles, Argument[] arguments, string description)
    {
        MethodNode method = builder.AddMethod(
            node, $"{unit.Name}/{alarm}/{name}", name, (caller, _, given) => Ask(kind, alarm, caller, given), roles, arguments, [UnitMethods.Answer], description);
        method.Refused = (caller, status) => calls.Note($"{kind} {unit.Name} {alarm}", caller, status);
    }

    private CallMethodResult Ask(string kind, string alarm, CallerContext caller, Variant[] arguments)
    {
        GuardRequest request = GuardCalls.Signed(kind, unit.Name, arguments) with { Alarm = alarm };
        if (arguments.Length == 2)
        {
            return calls.AskSigned(request, last, caller);
        }

        bool timeFits = GuardCalls.TryMinutes(arguments[2], out int minutes);
        return calls.AskSigned(request with { Minutes = minutes }, last, caller, timeFits);
    }
}
