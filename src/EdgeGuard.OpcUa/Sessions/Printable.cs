namespace EdgeGuard.OpcUa.Sessions;

/// <summary>Text of a client made fit for a log: one line, no control characters, bounded.</summary>
internal static class Printable
{
    private const int CharactersMax = 100;

    public static string Of(string? text) => string.Create(Math.Min(text?.Length ?? 0, CharactersMax), text ?? "", static (target, source) =>
    {
        for (int i = 0; i < target.Length; i++)
        {
            target[i] = char.IsControl(source[i]) ? '?' : source[i];
        }
    });
}
