namespace EdgeGuard.Service.Configuration.Schema;

/// <summary>One key the site file may hold.</summary>
internal sealed record KeySpec(string Name, KeyKind Kind)
{
    public bool Required { get; init; }

    public double Min { get; init; } = double.NegativeInfinity;

    public double Max { get; init; } = double.PositiveInfinity;

    /// <summary>Value of an absent number; NaN where the default depends on other keys or there is none.</summary>
    public double Default { get; init; } = double.NaN;

    public IReadOnlyList<string> Choices { get; init; } = [];

    public SectionSpec? Child { get; init; }

    /// <summary>What is expected, for messages.</summary>
    public string Expectation => Kind switch
    {
        KeyKind.Text => "text in quotes",
        KeyKind.Number => $"a number{Bounds}",
        KeyKind.Integer => $"a whole number{Bounds}",
        KeyKind.Flag => "true or false",
        KeyKind.Choice => "one of " + string.Join(", ", Choices.Select(c => $"\"{c}\"")),
        KeyKind.Date => "a date \"YYYY-MM-DD\"",
        KeyKind.Section => "an object { … }",
        _ => "a list [ { … } ] with 1 to " + Max + " entries",
    };

    private string Bounds => double.IsInfinity(Max) ? string.Empty : $" from {Min} to {Max}";
}
