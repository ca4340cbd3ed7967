namespace EdgeGuard.OpcUa;

/// <summary>A value with its status and timestamps (OPC 10000-4). A null timestamp is not written, nor is a Good status.</summary>
/// <param name="Value">The value; null for none.</param>
/// <param name="Status">Quality of the value.</param>
/// <param name="SourceTimestamp">Last change of value or status, by the clock of the source; null for none.</param>
/// <param name="ServerTimestamp">When the server knew the value to be accurate; null for none.</param>
/// <param name="SourcePicoseconds">Tens of picoseconds to add to the source timestamp, 0 to 9999.</param>
/// <param name="ServerPicoseconds">Tens of picoseconds to add to the server timestamp, 0 to 9999.</param>
public readonly record struct DataValue(
    Variant Value,
    StatusCode Status = StatusCode.Good,
    UaDateTime SourceTimestamp = default,
    UaDateTime ServerTimestamp = default,
    ushort SourcePicoseconds = 0,
    ushort ServerPicoseconds = 0)
{
    /// <summary>A status without a value.</summary>
    public DataValue(StatusCode status)
        : this(default, status)
    {
    }
}
