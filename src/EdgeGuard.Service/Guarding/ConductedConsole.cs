using System.Globalization;

namespace EdgeGuard.Service.Guarding;

/// <summary>Input and output of the conductor. The first line is read before anything is written, because its time dates the start of the run.</summary>
/// <param name="Input">Commands, one a line.</param>
/// <param name="Output">Answers, one a line.</param>
/// <param name="FirstLine">The first command, already read; null when the input ended.</param>
public sealed record ConductedConsole(TextReader Input, TextWriter Output, string? FirstLine)
{
    /// <summary>Says "ready" and waits for the first command.</summary>
    public static ConductedConsole Open(TextReader input, TextWriter output)
    {
        ArgumentNullException.ThrowIfNull(input);
        ArgumentNullException.ThrowIfNull(output);
        output.WriteLine("ready");
        output.Flush();
        return new ConductedConsole(input, output, input.ReadLine());
    }

    /// <summary>UTC of the first command, ms; the machine's time when it is no scan.</summary>
    public long StartUtcMs => FirstLine is not null && TryScan(FirstLine, out long utcMs) ? utcMs : TimeProvider.System.GetUtcNow().ToUnixTimeMilliseconds();

    internal static bool TryScan(string line, out long utcMs)
    {
        utcMs = 0;
        return line.StartsWith("scan ", StringComparison.Ordinal) && long.TryParse(line.AsSpan("scan ".Length), NumberStyles.None, CultureInfo.InvariantCulture, out utcMs);
    }
}
