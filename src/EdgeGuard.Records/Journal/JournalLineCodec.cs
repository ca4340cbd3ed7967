using System.Globalization;
using System.Text;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// Turns an entry into the body of a line. The order of keys is fixed and documented (docs/reference/journal-format.md),
/// values are integers or strings, and a string never holds a raw tab or line end: both are escaped, so the tab before
/// the hash and the newline after it are unambiguous. Two guards given the same entries write the same bytes.
/// </summary>
public static class JournalLineCodec
{
    /// <summary>Longest text kept of one string; longer ones are cut and end in "…". Bounds the line.</summary>
    public const int StringLengthMax = 2000;

    /// <summary>Bytes of the longest line a reader accepts: 7 strings of 6 bytes a character and the integers fit.</summary>
    public const int LineBytesMax = 128 * 1024;

    /// <summary>Formats a body.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="number">Line number over all segments, from 1.</param>
    /// <param name="run">Run id.</param>
    /// <param name="previousHash">Hash before a segment's first line, stated there; null on every other line.</param>
    /// <returns>UTF-8 bytes without tab and newline.</returns>
    public static byte[] Format(JournalEntry entry, long number, string run, string? previousHash)
    {
        ArgumentNullException.ThrowIfNull(entry);
        var text = new StringBuilder(256);
        text.Append("{\"n\":").Append(number.ToString(CultureInfo.InvariantCulture));
        AppendString(text, "prev", previousHash);
        AppendString(text, "utc", FormatUtc(entry.UtcUnixMs));
        AppendString(text, "run", run);
        AppendInteger(text, "scan", entry.Scan < 0 ? null : entry.Scan);
        AppendInteger(text, "seq", entry.Sequence == 0 ? null : entry.Sequence);
        AppendInteger(text, "id", entry.Id);
        AppendString(text, "event", EventRegistry.TextOf(entry.Id));
        AppendString(text, "unit", entry.Unit);
        AppendString(text, "function", entry.Function);
        AppendString(text, "value", entry.Value);
        AppendString(text, "limit", entry.Limit);
        AppendString(text, "since", entry.Since);
        AppendInteger(text, "detail", entry.Detail);
        AppendString(text, "person", entry.Person);
        AppendString(text, "reason", entry.Reason);
        AppendString(text, "text", entry.Text);
        return Encoding.UTF8.GetBytes(text.Append('}').ToString());
    }

    /// <summary>UTC as ISO 8601 with milliseconds; a time outside the calendar is written as its plain number.</summary>
    /// <param name="utcUnixMs">Milliseconds since 1970-01-01.</param>
    public static string FormatUtc(long utcUnixMs)
    {
        // The calendar of .NET ends with the year 9999; a wrong clock must not keep an event out of the journal.
        if (utcUnixMs < -62_135_596_800_000 || utcUnixMs > 253_402_300_799_999)
        {
            return "unix-ms:" + utcUnixMs.ToString(CultureInfo.InvariantCulture);
        }

        return DateTimeOffset.FromUnixTimeMilliseconds(utcUnixMs).UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
    }

    private static void AppendInteger(StringBuilder text, string key, long? value)
    {
        if (value is { } number)
        {
            text.Append(",\"").Append(key).Append("\":").Append(number.ToString(CultureInfo.InvariantCulture));
        }
    }

    private static void AppendString(StringBuilder text, string key, string? value)
    {
        if (value is null)
        {
            return;
        }

        text.Append(",\"").Append(key).Append("\":\"");
        int kept = Math.Min(value.Length, StringLengthMax);
        for (int i = 0; i < kept; i++)
        {
            AppendCharacter(text, value, i);
        }

        text.Append(kept < value.Length ? "…\"" : "\"");
    }

    // RFC 8259 clause 7: quotation mark, reverse solidus and U+0000–U+001F are escaped. A surrogate without its
    // partner cannot be written as UTF-8 and becomes U+FFFD.
    private static void AppendCharacter(StringBuilder text, string value, int index)
    {
        char c = value[index];
        bool paired = (char.IsHighSurrogate(c) && index + 1 < value.Length && char.IsLowSurrogate(value[index + 1]))
            || (char.IsLowSurrogate(c) && index > 0 && char.IsHighSurrogate(value[index - 1]));
        if (c is '"' or '\\')
        {
            text.Append('\\').Append(c);
        }
        else if (char.IsControl(c))
        {
            text.Append("\\u").Append(((int)c).ToString("x4", CultureInfo.InvariantCulture));
        }
        else
        {
            text.Append(char.IsSurrogate(c) && !paired ? '\uFFFD' : c);
        }
    }
}
