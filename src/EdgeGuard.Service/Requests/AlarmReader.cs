using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.Requests;

/// <summary>
/// The part of a request that only those about one alarm have: which alarm and, for the shelf, how long. Whether the site
/// lets it be hidden is for the core to decide; here stands only what can be an alarm at all.
/// </summary>
internal static class AlarmReader
{
    /// <summary>True for a kind that names an alarm.</summary>
    public static bool IsAboutAlarm(RequestKind kind) =>
        kind is RequestKind.Shelve or RequestKind.Unshelve or RequestKind.RemoveFromService or RequestKind.ReturnToService;

    /// <summary>The kind of a word of the socket; None for one that is not about an alarm.</summary>
    public static RequestKind KindOf(string? word) => word switch
    {
        "shelve" => RequestKind.Shelve,
        "unshelve" => RequestKind.Unshelve,
        "outofservice" => RequestKind.RemoveFromService,
        "inservice" => RequestKind.ReturnToService,
        _ => RequestKind.None,
    };

    /// <summary>What is wrong with alarm and minutes of a request of this kind; null when nothing is.</summary>
    public static string? Fault(RequestMessage message, RequestKind kind)
    {
        if (!IsAboutAlarm(kind))
        {
            return message.Alarm is null ? null : $"alarm: found {RequestReader.Quote(message.Alarm)}; expected none, since only shelve, unshelve, outofservice and inservice name an alarm";
        }

        if (!AlarmTexts.TryFind(message.Alarm, out _))
        {
            return $"alarm: found {RequestReader.Quote(message.Alarm)}; expected one of {string.Join(", ", Codes())}";
        }

        if (message.Function is not null)
        {
            return $"function: found {RequestReader.Quote(message.Function)}; expected none: name the alarm";
        }

        if (kind == RequestKind.Shelve && message.Minutes is not (>= 1 and <= RequestLimits.ShelfMinutesMax))
        {
            return $"minutes: found {(message.Minutes is { } minutes ? minutes : "nothing")}; expected 1 to {RequestLimits.ShelfMinutesMax}";
        }

        return kind != RequestKind.Shelve && message.Minutes is not null ? $"minutes: found {message.Minutes}; expected none, since only the shelf has a time" : null;
    }

    private static IEnumerable<string> Codes() => Enumerable.Range(0, FunctionIds.Count)
        .Where(static i => AlarmIds.Exists((FunctionId)i)).Select(static i => AlarmTexts.CodeOf((FunctionId)i));
}
