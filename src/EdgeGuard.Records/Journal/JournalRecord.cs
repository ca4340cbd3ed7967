using System.Text.Json;

namespace EdgeGuard.Records.Journal;

/// <summary>A line read back: the fields by name, and the body as it stands.</summary>
public sealed class JournalRecord
{
    private readonly Dictionary<string, string> _fields = new(StringComparer.Ordinal);

    private JournalRecord(string body) => Body = body;

    /// <summary>The body as it stands in the file.</summary>
    public string Body { get; }

    /// <summary>Line number over all segments; 0 when unreadable.</summary>
    public long Number => Integer("n");

    /// <summary>Event id; 0 when unreadable.</summary>
    public int EventId => (int)Math.Clamp(Integer("id"), 0, int.MaxValue);

    /// <summary>A field as text, or null when the line does not have it.</summary>
    /// <param name="key">Key as documented, e.g. "unit".</param>
    public string? this[string key] => _fields.GetValueOrDefault(key);

    /// <summary>Reads a body.</summary>
    /// <param name="body">UTF-8 bytes without tab and newline.</param>
    /// <returns>The record, or null when the bytes are not one JSON object of integers and strings.</returns>
    public static JournalRecord? Parse(ReadOnlySpan<byte> body)
    {
        try
        {
            var reader = new Utf8JsonReader(body);
            var record = new JournalRecord(System.Text.Encoding.UTF8.GetString(body));
            return record.Fill(ref reader) ? record : null;
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException)
        {
            return null; // InvalidOperationException: a string that is no UTF-8 or holds half a surrogate pair
        }
    }

    private bool Fill(ref Utf8JsonReader reader)
    {
        if (!reader.Read() || reader.TokenType != JsonTokenType.StartObject)
        {
            return false;
        }

        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            string key = reader.GetString()!;
            bool known = reader.Read() && reader.TokenType is JsonTokenType.String or JsonTokenType.Number;
            if (!known || !_fields.TryAdd(key, reader.TokenType == JsonTokenType.String ? reader.GetString()! : System.Text.Encoding.ASCII.GetString(reader.ValueSpan)))
            {
                return false;
            }
        }

        return reader.TokenType == JsonTokenType.EndObject && !reader.Read();
    }

    private long Integer(string key) =>
        long.TryParse(this[key], System.Globalization.NumberStyles.AllowLeadingSign, System.Globalization.CultureInfo.InvariantCulture, out long value) ? value : 0;
}
