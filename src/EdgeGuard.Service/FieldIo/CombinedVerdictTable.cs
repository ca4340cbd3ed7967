namespace EdgeGuard.Service.FieldIo;

/// <summary>A word of the scan that says of several devices at once whether their settings are as commissioned.</summary>
public sealed record CombinedVerdictTable
{
    /// <summary>Index of the one-word block in <see cref="Core.Signals.RawScan.Blocks"/>: 1 all as commissioned, 0 one different.</summary>
    public required int Block { get; init; }

    /// <summary>Indices of the blocks of the devices' own verdicts, two or more.</summary>
    public required IReadOnlyList<int> Parts { get; init; }
}
