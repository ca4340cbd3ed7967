using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Requests to the guard as methods of each unit, with a reason that goes into the journal. The guard decides; a refusal
/// is BadInvalidState, and its sentence stands in the output argument and in LastAnswer, because many clients drop the
/// outputs of a call that failed. Reset is executable only where the site allows it from afar.
/// </summary>
internal sealed class UnitMethods : IDisposable
{
    private const int CallsMax = 4;
    private const int TextCharactersMax = 300;
    private const CallerRoles Operators = CallerRoles.Operator | CallerRoles.Supervisor;

    private readonly IGuardRequests _requests;
    private readonly SemaphoreSlim _calls = new(CallsMax);
    private readonly RefusalNotes _notes;

    public UnitMethods(SpaceBuilder builder, SiteTable site, IGuardRequests requests)
    {
        _requests = requests;
        _notes = new RefusalNotes(requests);
        foreach (UnitTable unit in site.Units)
        {
            Add(builder, unit);
        }
    }

    public void Dispose()
    {
        _notes.Dispose();
        _calls.Dispose();
    }

    private void Add(SpaceBuilder builder, UnitTable unit)
    {
        Node node = builder.Space.Find(new NodeId(2, unit.Name))!;
        VariableNode last = builder.AddVariable(node, new VariableSpec(unit.Name + "/LastAnswer", "LastAnswer", new NodeId(StandardIds.String)) { Description = "The guard's answer to the last request made here" });
        last.Set(new Variant(""), builder.Space.StartTime);
        foreach ((string name, string kind, string description, CallerRoles roles) in Kinds)
        {
            Argument[] inputs = [SpaceBuilder.Scalar("Reason", StandardIds.String, "Why, for the journal")];
            Argument[] outputs = [SpaceBuilder.Scalar("Answer", StandardIds.String, "The guard's answer")];
            MethodNode method = builder.AddMethod(node, $"{unit.Name}/{name}", name, (caller, _, arguments) => Ask(kind, unit.Name, last, caller, arguments), roles, inputs, outputs, description);
            method.Refused = (caller, status) => Note(kind, unit.Name, caller, status);
            if (string.Equals(kind, "reset", StringComparison.Ordinal) && !unit.RemoteReset)
            {
                method.Handler = null;
            }
        }
    }

    private static readonly (string Name, string Kind, string Description, CallerRoles Roles)[] Kinds =
    [
        ("Acknowledge", "acknowledge", "Acknowledge alarms and trip; changes no output", Operators),
        ("Start", "start", "Begin pre-flow and then heating", Operators),
        ("Stop", "stop", "Remove power now and cool with gas", Operators),
        ("Cool", "cool", "Powered cool-down at the cap, then removal of power", Operators),
        ("Reset", "reset", "Clear a latched trip whose cause is gone; never starts heating", CallerRoles.Supervisor),
    ];

    private CallMethodResult Ask(string kind, string unit, VariableNode last, CallerContext caller, Variant[] arguments)
    {
        string reason = arguments[0].AsString ?? "";
        if (reason.Length is 0 or > TextCharactersMax)
        {
            Note(kind, unit, caller, StatusCode.BadInvalidArgument);
            return new CallMethodResult { StatusCode = StatusCode.BadInvalidArgument, InputArgumentResults = [StatusCode.BadOutOfRange] };
        }

        if (!_calls.Wait(0))
        {
            Note(kind, unit, caller, StatusCode.BadResourceUnavailable);
            return new CallMethodResult { StatusCode = StatusCode.BadResourceUnavailable };
        }

        try
        {
            GuardReply reply = _requests.Ask(kind, unit, Person(caller), reason);
            last.Set(new Variant($"{kind}: {reply.Message}"), UaDateTime.FromUtc(DateTime.UtcNow));
            return new CallMethodResult { StatusCode = Status(reply.Outcome), OutputArguments = [new Variant(reply.Message)] };
        }
        finally
        {
            _calls.Release();
        }
    }

    // Refused here, so the guard was not asked; its journal has it all the same.
    private void Note(string kind, string unit, CallerContext caller, StatusCode status) =>
        _notes.Add(Person(caller), $"{kind} {unit} refused by the publisher: {Why(status)}");

    private static string Person(CallerContext caller)
    {
        string person = $"{caller.UserName ?? "anonymous"} over OPC UA, session {caller.SessionName}";
        return person.Length > TextCharactersMax ? person[..TextCharactersMax] : person;
    }

    private static string Why(StatusCode status) => status switch
    {
        StatusCode.BadUserAccessDenied => "the role is missing",
        StatusCode.BadNotExecutable => "not allowed from afar on this site",
        StatusCode.BadResourceUnavailable => "too many requests at once",
        StatusCode.BadArgumentsMissing or StatusCode.BadTooManyArguments or StatusCode.BadInvalidArgument => "the reason is missing, too long or not a text",
        _ => $"status 0x{(uint)status:x8}",
    };

    private static StatusCode Status(GuardOutcome outcome) => outcome switch
    {
        GuardOutcome.Accepted => StatusCode.Good,
        GuardOutcome.Refused => StatusCode.BadInvalidState,
        GuardOutcome.Busy => StatusCode.BadResourceUnavailable,
        GuardOutcome.Denied => StatusCode.BadUserAccessDenied,
        GuardOutcome.Invalid => StatusCode.BadInvalidArgument,
        _ => StatusCode.BadNotConnected,
    };
}
