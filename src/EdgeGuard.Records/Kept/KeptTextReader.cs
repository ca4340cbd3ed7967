using System.Globalization;

namespace EdgeGuard.Records.Kept;

/// <summary>
/// Reads the lines back, each where it has to stand; the first that is missing, out of place or out of bounds is the
/// fault, and what is read after it counts for nothing.
/// </summary>
internal sealed class KeptTextReader(string[] lines, int next) : IKeptFields
{
    /// <summary>2200-01-01: no clock of this plant shows more.</summary>
    public const long UtcMsMost = 7_258_118_400_000;

    private const string TimeFormat = "yyyy-MM-dd'T'HH:mm:ss.fff'Z'";

    private int _next = next;

    /// <summary>The first fault; null while there is none.</summary>
    public string? Fault { get; private set; }

    /// <summary>Every line was read.</summary>
    public bool IsAtEnd => _next == lines.Length;

    public string Text(string key, string value) => Take(key, "text") ?? value;

    public long Time(string key, long utcMs)
    {
        string? text = Take(key, "a time");
        if (text is null)
        {
            return utcMs;
        }

        bool good = DateTime.TryParseExact(text, TimeFormat, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out DateTime time);
        long ms = good ? (long)(time - DateTime.UnixEpoch).TotalMilliseconds : -1;
        return good && ms is >= 0 and <= UtcMsMost ? ms : Wrong(key, text, "a time such as 2026-01-31T12:00:00.000Z", utcMs);
    }

    public long Whole(string key, long value, long most)
    {
        string? text = Take(key, "a whole number");
        bool good = long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out long number) && number <= most;
        return text is null ? value : good ? number : Wrong(key, text, string.Create(CultureInfo.InvariantCulture, $"0 to {most}"), value);
    }

    public double Number(string key, double value, double least, double most, bool mayBeNone = false)
    {
        string? text = Take(key, "a number");
        if (text is null || (mayBeNone && text is "-"))
        {
            return text is null ? value : double.NaN;
        }

        bool good = double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && number >= least && number <= most;
        return good ? number : Wrong(key, text, string.Create(CultureInfo.InvariantCulture, $"{least} to {most}"), value);
    }

    private string? Take(string key, string what)
    {
        if (Fault is not null)
        {
            return null;
        }

        string line = _next < lines.Length ? lines[_next] : string.Empty;
        if (!line.StartsWith(key + " ", StringComparison.Ordinal))
        {
            Fault = string.Create(CultureInfo.InvariantCulture, $"line {_next + 1}: found \"{Cut(line)}\"; expected {key} and {what}");
            return null;
        }

        _next++;
        return line[(key.Length + 1)..];
    }

    private T Wrong<T>(string key, string text, string expected, T value)
    {
        Fault = string.Create(CultureInfo.InvariantCulture, $"line {_next}: {key}: found \"{Cut(text)}\"; expected {expected}");
        return value;
    }

    private static string Cut(string text) => text.Length > 40 ? text[..40] + "…" : text;
}
