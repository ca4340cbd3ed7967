namespace EdgeGuard.Core.Signals;

/// <summary>Immutable configuration of one signal: where its words are, what they mean, what is plausible.</summary>
public sealed record SignalTable
{
    /// <summary>What the signal means to the unit.</summary>
    public required SignalRole Role { get; init; }

    /// <summary>Index of the poll block in <see cref="RawScan.Blocks"/>.</summary>
    public required int Block { get; init; }

    /// <summary>Offset of the first word in the block.</summary>
    public required int WordOffset { get; init; }

    /// <summary>Type of the raw value.</summary>
    public required WordType Type { get; init; }

    /// <summary>Byte order of a value of two or four words; ignored for one-word types.</summary>
    public WordOrder Order { get; init; }

    /// <summary>Bit number for <see cref="WordType.Bit"/>, lowest bit of a <see cref="WordType.BitField"/>, 0 to 15.</summary>
    public int Bit { get; init; }

    /// <summary>Number of bits of a <see cref="WordType.BitField"/>, 1 to 16.</summary>
    public int BitCount { get; init; } = 1;

    /// <summary>Engineering value = raw × Scale + Offset.</summary>
    public double Scale { get; init; } = 1;

    /// <summary>Added after scaling, in the engineering unit.</summary>
    public double Offset { get; init; }

    /// <summary>Lowest plausible engineering value; below it the signal is bad.</summary>
    public required double RangeMin { get; init; }

    /// <summary>Highest plausible engineering value; above it the signal is bad.</summary>
    public required double RangeMax { get; init; }

    /// <summary>A value older than this is stale and no longer good, ms.</summary>
    public required int StaleMs { get; init; }

    /// <summary>After this age a stale value is no longer carried at all, ms; at least <see cref="StaleMs"/>.</summary>
    public required int HoldMs { get; init; }

    /// <summary>A raw reading (before scaling) that stands for a broken sensor; NaN when the device has none.</summary>
    public double Sentinel { get; init; } = double.NaN;
}
