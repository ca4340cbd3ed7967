using System.Text.Json;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.Requests;

/// <summary>
/// One line from the socket → a checked order or a sentence that says what is wrong with it. Nothing from the socket
/// reaches journal or core before it has passed here.
/// </summary>
public static class RequestReader
{
    /// <summary>Kind of a request that asks for the status.</summary>
    public const string Status = "status";

    /// <summary>Kind of a message that asks for nothing: another process refused somebody's request itself and wants it written down.</summary>
    public const string Noted = "noted";

    /// <summary>Reads the line. False with <paramref name="fault"/> set when it is not a request.</summary>
    public static bool TryParse(ReadOnlySpan<byte> line, out RequestMessage? message, out string fault)
    {
        message = null;
        fault = string.Empty;
        try
        {
            message = JsonSerializer.Deserialize(line, RequestJson.Default.RequestMessage);
        }
        catch (JsonException e)
        {
            fault = "not a request in JSON: " + Printable(e.Message);
            return false;
        }

        if (message is null)
        {
            fault = "not a request in JSON: found null; expected an object with kind, unit and reason";
        }

        return message is not null;
    }

    /// <summary>Checks a message against the site. False with <paramref name="fault"/> set when it cannot be asked.</summary>
    public static bool TryCheck(RequestMessage message, IReadOnlyList<string> units, string user, out RequestOrder? order, out string fault)
    {
        ArgumentNullException.ThrowIfNull(message);
        ArgumentNullException.ThrowIfNull(units);
        order = null;
        RequestKind kind = KindOf(message);
        int unit = IndexOf(units, message.Unit);
        fault = kind == RequestKind.None ? KindFault(message)
            : unit < 0 ? $"unit: found {Quote(message.Unit)}; expected one of {string.Join(", ", units)}"
            : TextFault("reason", message.Reason, mandatory: true) ?? TextFault("person", message.Person, NeedsPerson(kind)) ?? AlarmReader.Fault(message, kind) ?? BypassReader.Fault(message, kind) ?? ForceReader.Fault(message, kind) ?? string.Empty;
        if (fault.Length > 0)
        {
            return false;
        }

        string person = string.IsNullOrWhiteSpace(message.Person) ? user : $"{message.Person.Trim()} ({user})";
        order = new RequestOrder(kind, unit, units[unit], person, message.Reason!.Trim())
        {
            Function = AlarmTexts.TryFind(message.Alarm, out FunctionId alarm) ? alarm : BypassReader.FunctionOf(message.Function),
            Minutes = (ushort)(message.Minutes ?? 0),
            Signal = ForceReader.SignalOf(message.Signal) ?? default,
            Value = message.Value ?? 0,
            Remote = message.Remote ?? false,
        };
        return true;
    }

    /// <summary>Checks a note: who (with the user of the connection) and what. False with <paramref name="fault"/> set when it cannot be written down.</summary>
    public static bool TryCheckNote(RequestMessage message, string user, out string person, out string fault)
    {
        ArgumentNullException.ThrowIfNull(message);
        fault = TextFault("reason", message.Reason, mandatory: true) ?? TextFault("person", message.Person, mandatory: false) ?? string.Empty;
        person = fault.Length > 0 || string.IsNullOrWhiteSpace(message.Person) ? user : $"{message.Person.Trim()} ({user})";
        return fault.Length == 0;
    }

    /// <summary>What weakens protection or judges it is signed by name.</summary>
    private static bool NeedsPerson(RequestKind kind) =>
        AlarmReader.IsAboutAlarm(kind) || kind is RequestKind.Bypass or RequestKind.Unbypass or RequestKind.Force or RequestKind.Unforce or RequestKind.ClassifyGenuine or RequestKind.ClassifySpurious or RequestKind.Learn;

    private static string KindFault(RequestMessage message) => string.Equals(message.Kind, "classify", StringComparison.Ordinal)
        ? $"class: found {Quote(message.Class)}; expected genuine or spurious"
        : $"kind: found {Quote(message.Kind)}; expected reset, start, stop, acknowledge, cool, bypass, unbypass, force, unforce, classify, learn, shelve, unshelve, outofservice, inservice or status";

    private static RequestKind KindOf(RequestMessage message) => message.Kind switch
    {
        "reset" => RequestKind.Reset,
        "start" => RequestKind.Start,
        "stop" => RequestKind.Stop,
        "acknowledge" => RequestKind.Acknowledge,
        "cool" => RequestKind.Cool,
        "bypass" => RequestKind.Bypass,
        "unbypass" => RequestKind.Unbypass,
        "force" => RequestKind.Force,
        "unforce" => RequestKind.Unforce,
        "learn" => RequestKind.Learn,
        "classify" when message.Class is "genuine" => RequestKind.ClassifyGenuine,
        "classify" when message.Class is "spurious" => RequestKind.ClassifySpurious,
        _ => AlarmReader.KindOf(message.Kind),
    };

    private static int IndexOf(IReadOnlyList<string> units, string? name)
    {
        for (int i = 0; i < units.Count; i++)
        {
            if (string.Equals(units[i], name, StringComparison.Ordinal))
            {
                return i;
            }
        }

        return -1;
    }

    private static string? TextFault(string what, string? text, bool mandatory)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return mandatory ? $"{what}: found nothing; expected a few words for the journal" : null;
        }

        if (text.Length > RequestLimits.TextCharactersMax)
        {
            return $"{what}: found {text.Length} characters; expected at most {RequestLimits.TextCharactersMax}";
        }

        return text.AsSpan().ContainsAnyInRange('\0', '\u001f') || text.AsSpan().ContainsAnyInRange('\u007f', '\u009f')
            ? $"{what}: found a control character; expected plain text on one line"
            : null;
    }

    internal static string Quote(string? text) => text is null ? "nothing" : $"\"{Printable(text.Length > 64 ? text[..64] + "…" : text)}\"";

    private static string Printable(string text) => string.Concat(text.Select(static c => char.IsControl(c) ? '?' : c));
}
