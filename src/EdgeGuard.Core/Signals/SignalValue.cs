namespace EdgeGuard.Core.Signals;

/// <summary>
/// A decoded value with its status and age. A default-initialised value is not good:
/// <see cref="Known"/> is false, whatever the status code says.
/// </summary>
public struct SignalValue
{
    /// <summary>Engineering value; meaningless unless <see cref="IsGood"/> or the status is uncertain.</summary>
    public double Value;

    /// <summary>OPC UA status code, see <see cref="StatusCode"/>.</summary>
    public uint Status;

    /// <summary>Age of the reading at the nominal time of the scan, ms.</summary>
    public int AgeMs;

    /// <summary>True once the decoder has written this value.</summary>
    public bool Known;

    /// <summary>True when an interlock may rely on the value.</summary>
    public readonly bool IsGood => Known && StatusCode.IsGood(Status);
}
