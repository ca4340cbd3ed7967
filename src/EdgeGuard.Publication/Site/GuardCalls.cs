using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Calls of people on their way to the guard, so many at a time. The guard decides; a refusal is BadInvalidState, and its
/// sentence stands in the output argument and in LastAnswer, because many clients drop the outputs of a call that failed.
/// What is refused here already, without asking the guard, stands in its journal all the same.
/// </summary>
internal sealed class GuardCalls(IGuardRequests requests) : IDisposable
{
    public const int TextCharactersMax = 300;
    private const int CallsMax = 4;

    private readonly SemaphoreSlim _calls = new(CallsMax);
    private readonly RefusalNotes _notes = new(requests);

    /// <summary>Asks and waits for the answer.</summary>
    /// <param name="request">The request; its person is the caller, behind the name he signs with if he does.</param>
    /// <param name="last">Node that keeps the answer.</param>
    /// <param name="caller">Who calls.</param>
    public CallMethodResult Ask(GuardRequest request, VariableNode last, CallerContext caller)
    {
        if (!_calls.Wait(0))
        {
            Note(What(request), caller, StatusCode.BadResourceUnavailable);
            return new CallMethodResult { StatusCode = StatusCode.BadResourceUnavailable };
        }

        try
        {
            string signed = request.Person.Length == 0 ? Person(caller) : $"{request.Person}, {Person(caller)}";
            GuardReply reply = requests.Ask(request with { Person = Cut(signed) });
            last.Set(new Variant($"{request.Kind}: {reply.Message}"), UaDateTime.FromUtc(DateTime.UtcNow));
            return new CallMethodResult { StatusCode = Status(reply.Outcome), OutputArguments = [new Variant(reply.Message)] };
        }
        finally
        {
            _calls.Release();
        }
    }

    /// <summary>Asks what a person signs for. Refused here where person or reason is no text, or an argument after them does not fit.</summary>
    /// <param name="request">The request, with the person as signed.</param>
    /// <param name="last">Node that keeps the answer.</param>
    /// <param name="caller">Who calls.</param>
    /// <param name="othersFit">For each argument after person and reason, whether it fits.</param>
    public CallMethodResult AskSigned(GuardRequest request, VariableNode last, CallerContext caller, params ReadOnlySpan<bool> othersFit) =>
        Refusal(What(request), caller, [IsText(request.Person), IsText(request.Reason), .. othersFit]) ?? Ask(request, last, caller);

    /// <summary>Refuses a call by its arguments: the first that is false is out of range.</summary>
    public CallMethodResult? Refusal(string what, CallerContext caller, params ReadOnlySpan<bool> fits)
    {
        if (!fits.Contains(false))
        {
            return null;
        }

        Note(what, caller, StatusCode.BadInvalidArgument);
        var results = new StatusCode[fits.Length];
        for (int i = 0; i < results.Length; i++)
        {
            results[i] = fits[i] ? StatusCode.Good : StatusCode.BadOutOfRange;
        }

        return new CallMethodResult { StatusCode = StatusCode.BadInvalidArgument, InputArgumentResults = results };
    }

    /// <summary>Has a refusal written down.</summary>
    public void Note(string what, CallerContext caller, StatusCode status) =>
        _notes.Add(Person(caller), $"{what} refused by the publisher: {Why(status)}");

    /// <summary>Whether a text is there and fits.</summary>
    public static bool IsText(string? text) => !string.IsNullOrWhiteSpace(text) && text.Length <= TextCharactersMax;

    /// <summary>A request with person and reason from the first two arguments; what is no text is empty.</summary>
    public static GuardRequest Signed(string kind, string unit, Variant[] arguments) =>
        new(kind, unit, arguments[0].AsString ?? "", arguments[1].AsString ?? "");

    /// <summary>Reads an argument in minutes; false where the guard could not take it. How long is too long, the guard says.</summary>
    public static bool TryMinutes(Variant argument, out int minutes)
    {
        bool fits = argument.AsInteger is >= 1 and <= ushort.MaxValue;
        minutes = fits ? (int)argument.AsInteger : 0;
        return fits;
    }

    public void Dispose()
    {
        _notes.Dispose();
        _calls.Dispose();
    }

    private static string What(GuardRequest request) =>
        $"{request.Kind} {request.Unit} {request.Function ?? request.Signal ?? request.Alarm}".TrimEnd();

    private static string Person(CallerContext caller) => Cut($"{caller.UserName ?? "anonymous"} over OPC UA, session {caller.SessionName}");

    private static string Cut(string text) => text.Length > TextCharactersMax ? text[..TextCharactersMax] : text;

    private static string Why(StatusCode status) => status switch
    {
        StatusCode.BadUserAccessDenied => "the role is missing",
        StatusCode.BadNotExecutable => "not allowed from afar on this site",
        StatusCode.BadResourceUnavailable => "too many requests at once",
        StatusCode.BadArgumentsMissing or StatusCode.BadTooManyArguments or StatusCode.BadInvalidArgument => "an argument is missing, too long or out of range",
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
