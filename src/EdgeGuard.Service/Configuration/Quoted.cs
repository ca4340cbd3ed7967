using System.Text;

namespace EdgeGuard.Service.Configuration;

/// <summary>Text from a file as it may stand in a message: in quotes, short, without control characters.</summary>
internal static class Quoted
{
    private const int Longest = 60;

    public static string Of(string text)
    {
        var quoted = new StringBuilder("\"");
        foreach (char c in text.AsSpan(0, Math.Min(text.Length, Longest)))
        {
            quoted.Append(char.IsControl(c) || char.IsSurrogate(c) ? '?' : c);
        }

        return quoted.Append(text.Length > Longest ? "…\"" : "\"").ToString();
    }
}
