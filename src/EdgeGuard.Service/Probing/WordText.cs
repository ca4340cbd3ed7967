namespace EdgeGuard.Service.Probing;

/// <summary>Registers as characters, two each, the first in the high byte; what is no printable ASCII is a dot.</summary>
internal static class WordText
{
    public static string Of(ReadOnlySpan<ushort> words)
    {
        Span<char> text = stackalloc char[2 * words.Length];
        for (int i = 0; i < words.Length; i++)
        {
            text[2 * i] = Printable(words[i] >> 8);
            text[(2 * i) + 1] = Printable(words[i] & 0xFF);
        }

        return text.ToString();
    }

    private static char Printable(int code) => code is > 0x20 and < 0x7F ? (char)code : '.';
}
