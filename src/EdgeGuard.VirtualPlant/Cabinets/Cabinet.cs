using EdgeGuard.VirtualPlant.Electrical;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Ledger;
using EdgeGuard.VirtualPlant.Physics;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>
/// One cabinet with its heater. Power flows only when the hardwired chain is closed, the trip relay and the enable are
/// at 1 and the permit token keeps changing, or the key stands on LOCAL; chain, relay and watchdog act through the
/// contactor, the enable acts on the firing at once. Everything is guarded by <see cref="Gate"/>, which is held for one
/// step at a time, so that registers are read at one moment of the plant.
/// </summary>
public sealed class Cabinet
{
    private readonly PermitWatchdog _watchdog;

    private readonly Contactor _contactor;

    private readonly IControlLoop _controller;

    private readonly LocalProgramme _programme;

    private readonly Thermocouple _element;

    private readonly Thermocouple _outlet;

    /// <summary>A cold cabinet with the key on SUPERVISED and everything off.</summary>
    public Cabinet(PlantProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        Profile = profile;
        Heater = HeaterState.Cold(profile.AmbientC);
        Registers = new CabinetRegisters(profile);
        Ledger = new UnitLedger(profile.Name, profile.RatedKw, profile.Limits);
        _watchdog = new PermitWatchdog(profile.WatchdogMs);
        _contactor = new Contactor(profile.ContactorMs);
        _controller = profile.Cascade is { } cascade
            ? new CascadeLoop(cascade, profile.InletC)
            : new SingleLoop(new PiController(profile.GainPercentPerK, profile.IntegralS));
        _programme = new LocalProgramme(profile);
        Electrical = new PowerStage(profile);
        _element = new Thermocouple(profile.AmbientC);
        _outlet = new Thermocouple(profile.AmbientC);
    }

    /// <summary>Lock of everything in the cabinet.</summary>
    public Lock Gate { get; } = new();

    /// <summary>The fixed facts.</summary>
    public PlantProfile Profile { get; }

    /// <summary>True state of the heater.</summary>
    public HeaterState Heater { get; }

    /// <summary>Supply, controller legs and element legs.</summary>
    public PowerStage Electrical { get; }

    /// <summary>The judge.</summary>
    public UnitLedger Ledger { get; }

    /// <summary>Active faults.</summary>
    public FaultBook Faults { get; } = new();

    /// <summary>Registers as last written.</summary>
    public CabinetRegisters Registers { get; }

    /// <summary>Position of the key.</summary>
    public KeyPosition Key { get; private set; }

    /// <summary>Plant time, ms since the start.</summary>
    public long NowMs { get; private set; }

    /// <summary>Element temperature as indicated, °C.</summary>
    public double ElementIndicatedC => _element.IndicatedC;

    /// <summary>Outlet temperature as indicated, °C.</summary>
    public double OutletIndicatedC => _outlet.IndicatedC;

    /// <summary>Output of the controller, per cent.</summary>
    public double OutputPercent => _controller.OutputPercent;

    /// <summary>Working setpoint, °C.</summary>
    public double SetpointC => Key == KeyPosition.Local ? _programme.SetpointC : Registers.SetpointC;

    /// <summary>Blower demand in force, per cent.</summary>
    public double BlowerPercent => Key == KeyPosition.Local ? Profile.BlowerRunPercent : Registers.BlowerPercent;

    /// <summary>The enable as the controller sees it: a stuck input stays at 1.</summary>
    public bool EnableSeen => Registers.Enable || Faults.Has(FaultKind.EnableStuck);

    /// <summary>Flow in the meter's register, kg/h: damped, and zero below 3 % of the range.</summary>
    public double MeterKgPerHour { get; private set; }

    /// <summary>True while the main contacts are closed.</summary>
    public bool ContactorClosed => _contactor.Closed;

    private bool ChainClosed => !Faults.Has(FaultKind.ChainOpen);

    private bool Local => Key == KeyPosition.Local;

    private bool Firing => _contactor.Closed && (Local ? _programme.Heating : EnableSeen);

    /// <summary>Turns the key.</summary>
    public void TurnKey(KeyPosition position)
    {
        if (position == KeyPosition.Local && !Local)
        {
            _programme.Start(Heater.OutletJunctionC, alreadyHot: _contactor.Closed);
        }

        Key = position;
    }

    /// <summary>Writes holding registers; a token is taken with the present plant time.</summary>
    public bool TryWriteRegisters(int address, ReadOnlySpan<ushort> values)
    {
        if (!Registers.TryWrite(address, values))
        {
            return false;
        }

        if (address == CabinetRegisters.TokenAddress && values.Length > 0)
        {
            _watchdog.Accept(values[0], NowMs);
        }

        return true;
    }

    /// <summary>Status word of the controller; see the register map.</summary>
    public ushort StatusWord()
    {
        int word = Local ? 0 : 1;
        word |= ChainClosed ? 1 << 1 : 0;
        word |= _contactor.Closed ? 1 << 2 : 0;
        word |= _watchdog.IsAlive(NowMs) ? 1 << 3 : 0;
        word |= Firing ? 1 << 4 : 0;
        word |= _element.Broken ? 1 << 5 : 0;
        word |= _outlet.Broken ? 1 << 6 : 0;
        return (ushort)word;
    }

    /// <summary>Advances cabinet and heater by one step and shows it to the ledger.</summary>
    /// <returns>Power during the step, kW.</returns>
    public double Step(int stepMs)
    {
        PermitState permit = Permit();
        bool coil = ChainClosed && (Local || (Registers.Relay && _watchdog.IsAlive(NowMs)));
        _contactor.Step(coil, Faults.Has(FaultKind.ContactorWelded), stepMs);
        StepController(stepMs);
        Electrical.Step(Firing ? OutputPercent / 100.0 : 0.0, _contactor.Closed, Faults, stepMs);
        double powerKw = Electrical.PowerKw;
        double blower = Faults.Has(FaultKind.BlowerStop) ? 0.0 : BlowerPercent / 100.0;
        HeaterModel.Step(Profile, Heater, powerKw, blower, Faults.ArgumentOr(FaultKind.FilterClog, 1.0), stepMs);
        NowMs += stepMs;
        StepInstruments();
        Ledger.Observe(Sample(stepMs, permit));
        return powerKw;
    }

    /// <summary>True values of this moment.</summary>
    public CabinetTruth Truth() => new()
    {
        Unit = Profile.Name,
        AtMs = NowMs,
        ElementC = Rounded(Heater.ElementC),
        ElementIndicatedC = Rounded(ElementIndicatedC),
        LiningC = Rounded(Heater.LiningC),
        GasC = Rounded(Heater.GasC),
        OutletIndicatedC = Rounded(OutletIndicatedC),
        SetpointC = Rounded(SetpointC),
        OutputPercent = Rounded(OutputPercent),
        PowerKw = Rounded(Heater.PowerKw),
        CurrentL1A = Rounded(Electrical.CurrentsA.L1),
        CurrentL2A = Rounded(Electrical.CurrentsA.L2),
        CurrentL3A = Rounded(Electrical.CurrentsA.L3),
        VoltageL1V = Rounded(Electrical.VoltagesV.L1),
        VoltageL2V = Rounded(Electrical.VoltagesV.L2),
        VoltageL3V = Rounded(Electrical.VoltagesV.L3),
        LeakageMa = Rounded(Electrical.LeakageMa),
        FlowKgPerHour = Rounded(Heater.FlowKgPerHour),
        MeterKgPerHour = Rounded(MeterKgPerHour),
        BlowerPercent = BlowerPercent,
        Permit = Permit(),
        ContactorClosed = _contactor.Closed,
        Key = Key,
    };

    private static double Rounded(double value) => Math.Round(value, 3);

    private PermitState Permit()
    {
        if (!ChainClosed)
        {
            return PermitState.ChainOpen;
        }

        if (Local)
        {
            return PermitState.Permitted;
        }

        if (_watchdog.IsWithdrawn || !Registers.Relay || !Registers.Enable)
        {
            return PermitState.Withdrawn;
        }

        return _watchdog.IsAlive(NowMs) ? PermitState.Permitted : PermitState.WatchdogExpired;
    }

    private void StepController(int stepMs)
    {
        if (Local)
        {
            _programme.Step(stepMs);
        }

        var values = new LoopValues(SetpointC, OutletIndicatedC, ElementIndicatedC);
        if (!Firing)
        {
            // The auxiliary contact tells the controller; otherwise it would wind up behind an open contactor.
            _controller.Track(values, 0.0);
        }
        else if (!Local && Registers.Manual)
        {
            _controller.Track(values, Math.Min(Registers.ManualPercent, Registers.OutputLimitPercent));
        }
        else if (_outlet.Broken || (_element.Broken && Profile.Cascade is not null))
        {
            _controller.Track(values, 0.0);
        }
        else
        {
            _controller.Step(values, Local ? 100.0 : Registers.OutputLimitPercent, stepMs / 1000.0);
        }
    }

    private void StepInstruments()
    {
        double element = Between(Heater.ElementJunctionC, Heater.GasC, FaultKind.ElementDisplaced);
        double outlet = Between(Heater.OutletJunctionC, Profile.AmbientC, FaultKind.OutletDisplaced);
        _element.Step(element, Faults.Has(FaultKind.ElementBreak), Faults.Has(FaultKind.ElementFreeze), Faults.Has(FaultKind.ElementShort), Faults.Has(FaultKind.ElementReverse));
        _outlet.Step(outlet, Faults.Has(FaultKind.OutletBreak), Faults.Has(FaultKind.OutletFreeze), Faults.Has(FaultKind.OutletShort), Faults.Has(FaultKind.OutletReverse));
        if (!Faults.Has(FaultKind.MeterFault) && !Faults.Has(FaultKind.MeterFreeze))
        {
            MeterKgPerHour = Heater.MeterKgPerHour < 0.03 * Profile.MeterRangeKgPerHour ? 0.0 : Heater.MeterKgPerHour;
        }
    }

    /// <summary>What a junction reads that has slipped a share of the way to another place.</summary>
    private double Between(double ownC, double otherC, FaultKind displaced) => ownC + (Faults.ArgumentOr(displaced, 0.0) * (otherC - ownC));

    private LedgerSample Sample(int stepMs, PermitState permit) => new()
    {
        TimeMs = NowMs,
        StepMs = stepMs,
        ElementC = Heater.ElementC,
        OutletC = Heater.OutletJunctionC,
        FlowKgPerHour = Heater.FlowKgPerHour,
        MeterKgPerHour = MeterKgPerHour,
        PowerKw = Heater.PowerKw,
        GasKw = Heater.GasKw,
        LossKw = Heater.LossKw,
        StoredKj = HeaterModel.StoredKj(Profile, Heater),
        BlowerPercent = BlowerPercent,
        Permit = permit,
        TokenChangeMs = _watchdog.LastChangeMs,
    };
}
