namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>A conductor that gives one line at once and makes the next when it is asked for it.</summary>
internal sealed class StepReader(string first, Func<string?> next) : TextReader
{
    private int _lines;

    public override string? ReadLine() => _lines++ switch
    {
        0 => first,
        1 => next(),
        _ => null,
    };
}
