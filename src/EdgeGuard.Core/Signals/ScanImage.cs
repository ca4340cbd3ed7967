namespace EdgeGuard.Core.Signals;

/// <summary>The decoded signals of one unit in one scan, indexed by <see cref="SignalRole"/>.</summary>
public sealed class ScanImage
{
    private readonly SignalValue[] _values = new SignalValue[SignalRoles.Count];

    /// <summary>The value of a role; a role that is not configured reads <see cref="StatusCode.BadNotConnected"/>.</summary>
    public ref SignalValue this[SignalRole role] => ref _values[(int)role];
}
