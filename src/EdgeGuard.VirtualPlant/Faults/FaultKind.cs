namespace EdgeGuard.VirtualPlant.Faults;

/// <summary>Faults that can be put into a cabinet on command.</summary>
public enum FaultKind : byte
{
    /// <summary>No fault.</summary>
    None = 0,

    /// <summary>The blower coasts down whatever is demanded.</summary>
    BlowerStop,

    /// <summary>The filter clogs; argument: what is left of the flow, 0 to 1.</summary>
    FilterClog,

    /// <summary>Element thermocouple broken: reads 9999.0 and sets its status bit.</summary>
    ElementBreak,

    /// <summary>Element thermocouple reading frozen.</summary>
    ElementFreeze,

    /// <summary>Element thermocouple shorted at its terminals: reads ambient.</summary>
    ElementShort,

    /// <summary>Element thermocouple connected the wrong way round.</summary>
    ElementReverse,

    /// <summary>Outlet thermocouple broken: reads 9999.0 and sets its status bit.</summary>
    OutletBreak,

    /// <summary>Outlet thermocouple reading frozen.</summary>
    OutletFreeze,

    /// <summary>Outlet thermocouple shorted at its terminals: reads ambient.</summary>
    OutletShort,

    /// <summary>Outlet thermocouple connected the wrong way round.</summary>
    OutletReverse,

    /// <summary>The meter reports a sensor fault and keeps its last flow.</summary>
    MeterFault,

    /// <summary>The meter's flow is frozen and looks healthy.</summary>
    MeterFreeze,

    /// <summary>Connections are closed and new ones refused.</summary>
    LinkDrop,

    /// <summary>Connections stay, nothing is answered.</summary>
    LinkSilent,

    /// <summary>The enable input sticks at 1.</summary>
    EnableStuck,

    /// <summary>
    /// Legs of the controller shorted (thyristors that cannot block any more); argument: how many, and unless given as
    /// many as leave half of the rated power whenever the contactor is closed. One shorted leg of a three-leg controller
    /// alone carries nothing while off.
    /// </summary>
    LegShorted,

    /// <summary>One leg of the element open; argument: which, 1 to 3, 3 unless given. In star half of the power is left.</summary>
    LegOpen,

    /// <summary>The contactor does not open any more.</summary>
    ContactorWelded,

    /// <summary>Supply voltage over nominal; argument: factor, 0.8 to 1.2, 1.1 unless given.</summary>
    SupplyHigh,

    /// <summary>The hardwired safety chain opens.</summary>
    ChainOpen,

    /// <summary>Resistance of the third leg of the element high (aged, or a bad terminal); argument: factor, 1.1 unless given.</summary>
    LegHigh,

    /// <summary>A phase of the supply is lost; argument: which, 1 to 3, 3 unless given.</summary>
    SupplyPhaseLost,

    /// <summary>Supply voltage under nominal; argument: factor, 0.8 to 1, 0.9 unless given.</summary>
    SupplyLow,

    /// <summary>Additional earth leakage while the element is live; argument: mA, 60 unless given.</summary>
    EarthLeakage,

    /// <summary>
    /// Element thermocouple slipped from the element towards the gas behind it; argument: the share of the way, 0 to 1,
    /// 0.5 unless given. It reads a temperature that could be, and no break is detected.
    /// </summary>
    ElementDisplaced,

    /// <summary>
    /// Outlet thermocouple drawn back towards the wall of the duct; argument: the share of the way to the temperature of the
    /// hall, 0 to 1, 0.1 unless given. The controller heats the gas by what it does not see.
    /// </summary>
    OutletDisplaced,
}
