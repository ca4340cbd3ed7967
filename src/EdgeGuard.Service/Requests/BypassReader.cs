using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.Requests;

/// <summary>
/// The part of a request that names a function, and for how long. Whether the site allows it is for
/// the core to decide; here stands only what can be a bypass at all.
/// </summary>
internal static class BypassReader
{
    /// <summary>What is wrong with function and minutes of a request of this kind; null when nothing is.</summary>
    public static string? Fault(RequestMessage message, RequestKind kind)
    {
        if (AlarmReader.IsAboutAlarm(kind))
        {
            return null;
        }

        bool bypasses = kind == RequestKind.Bypass;
        bool named = bypasses || kind is RequestKind.Unbypass or RequestKind.Learn;
        if (named && FunctionOf(message.Function) == FunctionId.None)
        {
            return $"function: found {RequestReader.Quote(message.Function)}; expected one of {string.Join(", ", Codes(kind))}";
        }

        if (!named && message.Function is not null)
        {
            return $"function: found {RequestReader.Quote(message.Function)}; expected none, since only bypass, unbypass and learn name a function";
        }

        if (bypasses && message.Minutes is not (>= 1 and <= RequestLimits.BypassMinutesMax))
        {
            return $"minutes: found {(message.Minutes is { } minutes ? minutes : "nothing")}; expected 1 to {RequestLimits.BypassMinutesMax}";
        }

        return !bypasses && kind != RequestKind.Force && message.Minutes is not null
            ? $"minutes: found {message.Minutes}; expected none, since only a bypass and a force have a time"
            : null;
    }

    /// <summary>The function of a code; None for no or an unknown one.</summary>
    public static FunctionId FunctionOf(string? code)
    {
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            if (string.Equals(FunctionTexts.Of((FunctionId)i).Code, code, StringComparison.OrdinalIgnoreCase))
            {
                return (FunctionId)i;
            }
        }

        return FunctionId.None;
    }

    private static IEnumerable<string> Codes(RequestKind kind) => Enumerable.Range(1, FunctionIds.Count - 1)
        .Where(i => kind == RequestKind.Learn ? FunctionIds.Learns((FunctionId)i) : FunctionIds.MayBeBypassed((FunctionId)i)).Select(static i => FunctionTexts.Of((FunctionId)i).Code);
}
