namespace EdgeGuard.Core.Signals;

/// <summary>The words of one poll request as they were last read, with the outcome and age.</summary>
public struct RawBlock
{
    /// <summary>Outcome of the latest request.</summary>
    public ReadResult Result;

    /// <summary>Modbus exception code of the latest request, 0 when there was none.</summary>
    public byte ExceptionCode;

    /// <summary>Age of the words at the nominal time of the scan, ms; <see cref="int.MaxValue"/> when never read.</summary>
    public int AgeMs;

    /// <summary>Counts good reads, so that a frozen block differs from a repeated value.</summary>
    public uint ReadCount;

    /// <summary>Words of the latest good read; coils and discrete inputs stand one per word, 0 or 1.</summary>
    public ushort[] Words;
}
