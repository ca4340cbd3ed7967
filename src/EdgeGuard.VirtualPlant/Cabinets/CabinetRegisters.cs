using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>The ten holding registers of the controller as last written; addresses are zero-based protocol addresses.</summary>
public sealed class CabinetRegisters
{
    /// <summary>Number of holding registers.</summary>
    public const int Count = 10;

    /// <summary>Permit token.</summary>
    public const int TokenAddress = 0;

    /// <summary>Trip relay.</summary>
    public const int RelayAddress = 1;

    /// <summary>Enable.</summary>
    public const int EnableAddress = 2;

    /// <summary>Mode, 0 automatic, 1 manual.</summary>
    public const int ManualAddress = 3;

    /// <summary>Manual output, 0.1 %.</summary>
    public const int ManualOutputAddress = 4;

    /// <summary>Remote setpoint, two registers.</summary>
    public const int SetpointAddress = 5;

    /// <summary>Blower demand, 0.1 %.</summary>
    public const int BlowerAddress = 7;

    /// <summary>Watchdog time, read only.</summary>
    public const int WatchdogAddress = 8;

    /// <summary>Output limit, 0.1 %.</summary>
    public const int OutputLimitAddress = 9;

    private readonly ushort[] _words = new ushort[Count];

    private readonly double _setpointMaxC;

    /// <summary>Registers after power-up: everything off, setpoint at ambient.</summary>
    public CabinetRegisters(PlantProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        _setpointMaxC = profile.SetpointMaxC;
        _words[WatchdogAddress] = (ushort)profile.WatchdogMs;
        _words[OutputLimitAddress] = 1000;
        FloatWords.PutHighFirst((float)profile.AmbientC, _words.AsSpan(SetpointAddress));
    }

    /// <summary>Permit token; zero permits nothing.</summary>
    public ushort Token => _words[TokenAddress];

    /// <summary>Trip relay as written; false opens the contactor.</summary>
    public bool Relay => _words[RelayAddress] != 0;

    /// <summary>Enable as written; a stuck enable input is the cabinet's matter.</summary>
    public bool Enable => _words[EnableAddress] != 0;

    /// <summary>True in manual.</summary>
    public bool Manual => _words[ManualAddress] != 0;

    /// <summary>Manual output, per cent.</summary>
    public double ManualPercent => _words[ManualOutputAddress] / 10.0;

    /// <summary>Remote setpoint, °C.</summary>
    public double SetpointC => FloatWords.GetHighFirst(_words.AsSpan(SetpointAddress));

    /// <summary>Blower demand, per cent.</summary>
    public double BlowerPercent => _words[BlowerAddress] / 10.0;

    /// <summary>Output limit, per cent.</summary>
    public double OutputLimitPercent => _words[OutputLimitAddress] / 10.0;

    /// <summary>One word as written.</summary>
    public ushort this[int address] => _words[address];

    /// <summary>Writes consecutive registers, all or none. The caller has checked the address range.</summary>
    /// <returns>False when a value is out of its range; nothing is changed then.</returns>
    public bool TryWrite(int address, ReadOnlySpan<ushort> values)
    {
        Span<ushort> candidate = stackalloc ushort[Count];
        _words.CopyTo(candidate);
        values.CopyTo(candidate[address..]);
        if (!IsValid(candidate))
        {
            return false;
        }

        candidate.CopyTo(_words);
        return true;
    }

    private bool IsValid(ReadOnlySpan<ushort> words)
    {
        float setpoint = FloatWords.GetHighFirst(words[SetpointAddress..]);
        return words[RelayAddress] <= 1
            && words[EnableAddress] <= 1
            && words[ManualAddress] <= 1
            && words[ManualOutputAddress] <= 1000
            && words[BlowerAddress] <= 1000
            && words[OutputLimitAddress] <= 1000
            && setpoint >= 0.0f
            && setpoint <= _setpointMaxC;
    }
}
