using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// What one unit remembers from scan to scan, together with the facts of the scan under way. Functions only read it;
/// <see cref="UnitFacts"/>, <see cref="UnitSequence"/>, <see cref="PreFlowGate"/> and <see cref="CommandWriter"/> write
/// their own part. Kept in one place so that a snapshot of the core is a copy of these fields.
/// </summary>
internal sealed class UnitMemory
{
    public UnitMemory(SiteTable site, int unit, KeptFigures? kept = null)
    {
        Kept = kept ?? new KeptFigures();
        TripCount = Math.Clamp(Kept.TripCount, 0, KeptFigures.CountMax);
        Site = site;
        Unit = unit;
        Table = site.Units[unit];
        Enforces = Table.Enforces;
        ResidualKw = Table.RatedPowerKw * Table.Resd.LimitPercent / 100;
        OutputLimitPercent = SupplyBudget.RampKw(Table) / Table.RatedPowerKw * 100;
        Signals = Copy(Table.Signals);
        Commands = Copy(Table.Commands);
        Bypasses = new BypassState(Table.Bypass);
        Forces = new ForceState(Table);
        Trips = new TripLedger(Table, Kept);
        Alarms = new UnitAlarms(Table, site.ScanMs);
        Voters = new RoleVoter[Table.Voting.Count];
        for (int i = 0; i < Voters.Length; i++)
        {
            Voters[i] = new RoleVoter(Table.Voting[i]);
        }

        foreach (SignalTable signal in Signals)
        {
            Fitted[(int)signal.Role] = true;
        }
    }

    /// <summary>What the runs before left.</summary>
    public KeptFigures Kept { get; }

    /// <summary>The function that a person has told to learn anew, until it has taken that up; else None.</summary>
    public FunctionId Learns { get; set; }

    // Configuration.
    public SiteTable Site { get; }
    public int Unit { get; }
    public UnitTable Table { get; }
    public SignalTable[] Signals { get; }
    public CommandTable[] Commands { get; }
    public bool Enforces { get; }
    public RoleVoter[] Voters { get; }
    public double ResidualKw { get; }
    public double OutputLimitPercent { get; }
    public bool[] Fitted { get; } = new bool[SignalRoles.Count];

    // Facts of the scan under way.
    public RawScan Raw { get; set; } = null!;

    /// <summary>What the functions judge: the decoded signals, the voted value in place of a role with several sensors.</summary>
    public ScanImage Image { get; set; } = null!;

    /// <summary>The same without forced values: what every permission, proof and lead rests on. The same image while nothing is forced.</summary>
    public ScanImage Real { get; set; } = null!;

    /// <summary>The decoded signals as the devices say them, neither forced nor voted.</summary>
    public ScanImage Decoded { get; set; } = null!;

    /// <summary>Nominal scan, the skipped ones counted: the time of every delay that ends in a demand.</summary>
    public long Scan { get; set; }

    /// <summary>Scans in which the unit was looked at: the time of every proof that ends in a permission.</summary>
    public long SeenScan { get; set; }
    public double SitePowerKw { get; set; }
    public bool KeyLocal { get; set; }
    public bool KeySupervised { get; set; }
    public bool WatchdogAgrees { get; set; }
    public bool SettingsAgree { get; set; }
    public bool SettingsDiffer { get; set; }
    public bool HeatStored { get; set; }
    public bool FlowProved { get; set; }
    public bool FlowZeroNow { get; set; }
    public bool FlowZeroSeen { get; set; }
    public bool PowerProvedOff { get; set; }
    public bool PowerResidual { get; set; }
    public long PowerSinceScan { get; set; } = -1;
    public double ElementSlopeKPerMin { get; set; } = double.NaN;
    public double CoolSlopeKPerMin { get; set; } = double.NaN;

    // Unit state, latch, permit.
    public UnitState State { get; set; }
    public FunctionId FirstOut { get; set; } = FunctionId.Start;
    public int TripCount { get; set; }
    public bool Permit { get; set; }
    public bool PendingDurable { get; set; }
    public long PermitEvent { get; set; }
    public long RemovalScan { get; set; }
    public bool SelfBroken { get; set; }
    public FunctionState[] Previous { get; } = NewVerdicts();
    public bool[] PreviousBypassed { get; } = new bool[FunctionIds.Count];
    public bool[] PreviousForced { get; } = new bool[FunctionIds.Count];
    public BypassState Bypasses { get; }
    public ForceState Forces { get; }

    /// <summary>Verdicts on the real values, of the functions that rest on a forced one in this scan.</summary>
    public FunctionStatus[] RealVerdicts { get; } = new FunctionStatus[FunctionIds.Count];
    public TripLedger Trips { get; }

    /// <summary>What people are told; no decision reads it.</summary>
    public UnitAlarms Alarms { get; }

    // Start and ramp.
    public bool StartedHot { get; set; }
    public bool FlowProvedTold { get; set; }
    public bool StartPositionFailed { get; set; }
    public long StartOrder { get; set; }
    public bool WaitsForSupply { get; set; }
    public bool SupplyFrozen { get; set; }
    public bool RampHeld { get; set; }
    public double LedSetpointC { get; set; }

    /// <summary>Output that the present flow supports, per cent; 100 where nothing is set back.</summary>
    public double SetbackPercent { get; set; } = 100;
    public long CoolStartScan { get; set; }

    /// <summary>The led cool-down goes down: the heater follows its setpoint no longer upwards.</summary>
    public bool CoolTurned { get; set; }

    // What was wanted of each command in the scan before; NaN when nothing was.
    public double[] Wanted { get; } = NewWanted();
    public ushort Token { get; set; }
    public bool TokenAdvanced { get; set; }

    /// <summary>Power is permitted, or not the guard's to permit: an observed heater is judged whenever it draws power.</summary>
    public bool MayDrawPower => Permit || !Enforces;

    /// <summary>The value of a role is good and the role is fitted.</summary>
    public bool IsGood(SignalRole role) => Image[role].IsGood;

    /// <summary>Value of a role; NaN when it is not good.</summary>
    public double ValueOrNaN(SignalRole role) => Image[role].IsGood ? Image[role].Value : double.NaN;

    /// <summary>Real value of a role; NaN when it is not good.</summary>
    public double RealOrNaN(SignalRole role) => Real[role].IsGood ? Real[role].Value : double.NaN;

    /// <summary>The judged value of a role is a forced one.</summary>
    public bool IsForced(SignalRole role) => Image[role].Status == StatusCode.GoodLocalOverride;

    /// <summary>Forced values the function rests on in this scan, one bit for each role.</summary>
    public ulong ForcedInputs(FunctionId function) => Forces.InEffect & Inputs[(int)function];

    /// <summary>Whole scans of a time, rounded up.</summary>
    public int Scans(long timeMs) => ScanDelay.Scans(timeMs, Site.ScanMs);

    /// <summary>An array, because walking a list through its interface allocates an enumerator.</summary>
    public static T[] Copy<T>(IReadOnlyList<T> list)
    {
        var copy = new T[list.Count];
        for (int i = 0; i < copy.Length; i++)
        {
            copy[i] = list[i];
        }

        return copy;
    }

    private static readonly ulong[] Inputs = NewInputs();

    private static ulong[] NewInputs()
    {
        ulong[] inputs = new ulong[FunctionIds.Count];
        for (int i = 0; i < inputs.Length; i++)
        {
            inputs[i] = FunctionIds.InputsOf((FunctionId)i);
        }

        return inputs;
    }

    private static double[] NewWanted()
    {
        double[] wanted = new double[CommandRoles.Count];
        Array.Fill(wanted, double.NaN);
        return wanted;
    }

    private static FunctionState[] NewVerdicts()
    {
        FunctionState[] verdicts = new FunctionState[FunctionIds.Count];
        Array.Fill(verdicts, FunctionState.Idle);
        return verdicts;
    }
}
