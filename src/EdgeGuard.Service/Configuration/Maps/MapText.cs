using System.Globalization;

namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>Cells of a register map with a form of their own: "text8" (eight registers of characters), "4..7" (bits).</summary>
internal static class MapText
{
    private const string TextPrefix = "text";
    private const int MostTextWords = 32; // 64 characters: enough for any name a device gives itself

    /// <summary>The registers of a text type; false for any other type.</summary>
    public static bool TryWords(string type, out int words)
    {
        words = 0;
        bool isText = type.StartsWith(TextPrefix, StringComparison.Ordinal)
            && int.TryParse(type.AsSpan(TextPrefix.Length), NumberStyles.None, CultureInfo.InvariantCulture, out words)
            && words is >= 1 and <= MostTextWords;
        words = isText ? words : 0;
        return isText;
    }

    /// <summary>"5" as bit 5 to bit 5, "4..7" as bit 4 to bit 7.</summary>
    public static bool TryBits(string text, out int low, out int high)
    {
        high = 0;
        int dots = text.IndexOf("..", StringComparison.Ordinal);
        ReadOnlySpan<char> first = dots < 0 ? text : text.AsSpan(0, dots);
        ReadOnlySpan<char> last = dots < 0 ? text : text.AsSpan(dots + 2);
        return int.TryParse(first, NumberStyles.None, CultureInfo.InvariantCulture, out low)
            && int.TryParse(last, NumberStyles.None, CultureInfo.InvariantCulture, out high)
            && low <= high && high <= 15;
    }
}
