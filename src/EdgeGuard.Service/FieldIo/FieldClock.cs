namespace EdgeGuard.Service.FieldIo;

/// <summary>The time axis on which readings are stamped and scans are due; never the wall clock.</summary>
public abstract class FieldClock
{
    /// <summary>Time since an arbitrary origin, µs; never runs backwards.</summary>
    public abstract long NowUs { get; }
}
