using System.Text;
using System.Text.Json;

namespace EdgeGuard.Service.Configuration.Json;

// Walks JSON (with // comments and trailing commas) token by token into nodes that know their place. No reflection
// and no binding happens here: meaning is judged later, so that all faults of meaning can be reported together,
// while a fault of syntax stands alone because nothing after it can be trusted.

/// <summary>Reads a site file into positioned nodes.</summary>
internal static class SiteJsonReader
{
    private const int DeepestNesting = 16;

    public static SiteNode? Read(string file, byte[] bytes, FaultList faults)
    {
        byte[] utf8 = WithoutMark(bytes);
        var lines = new LineIndex(file, utf8);
        if (!IsUtf8(utf8, lines, faults))
        {
            return null;
        }

        var options = new JsonReaderOptions
        {
            AllowTrailingCommas = true,
            CommentHandling = JsonCommentHandling.Skip,
            MaxDepth = DeepestNesting,
        };
        var reader = new Utf8JsonReader(utf8, options);
        try
        {
            reader.Read();
            SiteNode root = ReadValue(ref reader, lines);
            reader.Read(); // Anything after the root is a syntax fault.
            return root;
        }
        catch (JsonException fault)
        {
            AddSyntaxFault(fault, utf8, lines, faults);
        }
        catch (InvalidOperationException)
        {
            // Thrown for escapes that are no character, such as a lone surrogate.
            faults.Add(lines.At(reader.TokenStartIndex), "the text cannot be read as characters", "an escape that stands for no character", "text", "to write the character itself");
        }

        return null;
    }

    private static byte[] WithoutMark(byte[] bytes) =>
        bytes.AsSpan().StartsWith("\uFEFF"u8) ? bytes[3..] : bytes;

    private static bool IsUtf8(byte[] utf8, LineIndex lines, FaultList faults)
    {
        int good = 0;
        ReadOnlySpan<byte> rest = utf8;
        while (!rest.IsEmpty)
        {
            if (Rune.DecodeFromUtf8(rest, out _, out int used) != System.Buffers.OperationStatus.Done)
            {
                faults.Add(lines.At(good), "the file is not UTF-8 text", $"byte {utf8[good]:X2} (hexadecimal)", "UTF-8", "to save the file again as UTF-8");
                return false;
            }

            good += used;
            rest = rest[used..];
        }

        return true;
    }

    private static SiteNode ReadValue(ref Utf8JsonReader reader, LineIndex lines)
    {
        TextPosition at = lines.At(reader.TokenStartIndex);
        switch (reader.TokenType)
        {
            case JsonTokenType.StartObject:
                return ReadGroup(ref reader, lines, at);
            case JsonTokenType.StartArray:
                return ReadList(ref reader, lines, at);
            case JsonTokenType.String:
                return new SiteNode { Kind = SiteNodeKind.Text, At = at, Text = reader.GetString() ?? string.Empty };
            case JsonTokenType.Number:
                double number = reader.TryGetDouble(out double value) ? value : double.NaN;
                return new SiteNode { Kind = SiteNodeKind.Number, At = at, Number = number, Text = Encoding.UTF8.GetString(reader.ValueSpan) };
            case JsonTokenType.True:
            case JsonTokenType.False:
                bool flag = reader.TokenType == JsonTokenType.True;
                return new SiteNode { Kind = SiteNodeKind.Flag, At = at, Flag = flag, Text = flag ? "true" : "false" };
            default:
                return new SiteNode { Kind = SiteNodeKind.Null, At = at };
        }
    }

    private static SiteNode ReadGroup(ref Utf8JsonReader reader, LineIndex lines, TextPosition at)
    {
        var group = new SiteNode { Kind = SiteNodeKind.Group, At = at };
        while (reader.Read() && reader.TokenType == JsonTokenType.PropertyName)
        {
            TextPosition keyAt = lines.At(reader.TokenStartIndex);
            string key = reader.GetString() ?? string.Empty;
            reader.Read();
            group.Members.Add(new SiteMember(key, keyAt, ReadValue(ref reader, lines)));
        }

        return group;
    }

    private static SiteNode ReadList(ref Utf8JsonReader reader, LineIndex lines, TextPosition at)
    {
        var list = new SiteNode { Kind = SiteNodeKind.List, At = at };
        while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
        {
            list.Items.Add(ReadValue(ref reader, lines));
        }

        return list;
    }

    private static string SyntaxAdvice(string found, bool afterComma) => found switch
    {
        "the character 'N'" or "the character 'I'" => "to state a finite number",
        "the character '\''" => "double quotation marks (\"…\") instead of single ones",
        "the character '#'" => "// to begin a comment",
        "the character '\u201C'" or "the character '\u201D'" or "the character '\u201E'" => "straight quotation marks (\"…\") instead of typographic ones",
        _ when afterComma && found.Length > 2 && char.IsAsciiDigit(found[^2]) => "a decimal point, if a decimal comma was meant (0.5 for 0,5)",
        _ => "to look for a missing comma, quotation mark or bracket at or just before this place",
    };

    private static void AddSyntaxFault(JsonException fault, byte[] utf8, LineIndex lines, FaultList faults)
    {
        long offset = lines.Offset(fault.LineNumber ?? 0, fault.BytePositionInLine ?? 0);
        TextPosition at = lines.At(offset);
        string found = "the end of the file";
        if (offset < utf8.Length)
        {
            Rune.DecodeFromUtf8(utf8.AsSpan((int)offset), out Rune rune, out _);
            found = rune.Value < ' ' ? "the end of the line" : $"the character '{rune}'";
        }

        bool number = found is "the character 'N'" or "the character 'I'";
        faults.Add(
            at,
            "the file cannot be read as JSON from here on",
            found,
            number ? "a number; NaN and Infinity are none" : "a key, a value, a comma or a closing bracket",
            SyntaxAdvice(found, offset > 0 && offset <= utf8.Length && utf8[offset - 1] == (byte)','));
    }
}
