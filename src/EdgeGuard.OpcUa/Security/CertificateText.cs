namespace EdgeGuard.OpcUa.Security;

/// <summary>Names out of foreign certificates, made fit for a log and a terminal: one line, no control characters, bounded.</summary>
internal static class CertificateText
{
    private const int CharactersMax = 200;

    public static string Of(string? text) => string.Create(Math.Min(text?.Length ?? 0, CharactersMax), text ?? "", static (target, source) =>
    {
        for (int i = 0; i < target.Length; i++)
        {
            target[i] = char.IsControl(source[i]) || char.IsSurrogate(source[i]) || source[i] is '\u2028' or '\u2029' or (>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069') ? '?' : source[i];
        }
    });

    public static string Of(DateTime utc) => utc.ToString("yyyy-MM-dd HH:mm:ss'Z'", System.Globalization.CultureInfo.InvariantCulture);
}
