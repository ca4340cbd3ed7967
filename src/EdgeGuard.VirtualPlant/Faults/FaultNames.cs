namespace EdgeGuard.VirtualPlant.Faults;

/// <summary>Names of the faults on the command line, and the range of the argument of those that take one.</summary>
public static class FaultNames
{
    private static readonly (string Name, FaultKind Kind)[] Table =
    [
        ("blower-stop", FaultKind.BlowerStop),
        ("filter-clog", FaultKind.FilterClog),
        ("element-break", FaultKind.ElementBreak),
        ("element-freeze", FaultKind.ElementFreeze),
        ("element-short", FaultKind.ElementShort),
        ("element-reverse", FaultKind.ElementReverse),
        ("outlet-break", FaultKind.OutletBreak),
        ("outlet-freeze", FaultKind.OutletFreeze),
        ("outlet-short", FaultKind.OutletShort),
        ("outlet-reverse", FaultKind.OutletReverse),
        ("meter-fault", FaultKind.MeterFault),
        ("meter-freeze", FaultKind.MeterFreeze),
        ("link-drop", FaultKind.LinkDrop),
        ("link-silent", FaultKind.LinkSilent),
        ("enable-stuck", FaultKind.EnableStuck),
        ("leg-shorted", FaultKind.LegShorted),
        ("leg-open", FaultKind.LegOpen),
        ("contactor-welded", FaultKind.ContactorWelded),
        ("supply-high", FaultKind.SupplyHigh),
        ("chain-open", FaultKind.ChainOpen),
        ("leg-high", FaultKind.LegHigh),
        ("supply-phase-lost", FaultKind.SupplyPhaseLost),
        ("supply-low", FaultKind.SupplyLow),
        ("earth-leakage", FaultKind.EarthLeakage),
        ("element-displaced", FaultKind.ElementDisplaced),
        ("outlet-displaced", FaultKind.OutletDisplaced),
    ];

    /// <summary>All names, separated by spaces.</summary>
    public static string All { get; } = string.Join(' ', Table.Select(t => t.Name));

    /// <summary>Finds a fault by its name.</summary>
    public static bool TryParse(string name, out FaultKind kind)
    {
        kind = Table.FirstOrDefault(t => string.Equals(t.Name, name, StringComparison.OrdinalIgnoreCase)).Kind;
        return kind != FaultKind.None;
    }

    /// <summary>Range and default of the argument; low above high where the fault takes none.</summary>
    public static (double Low, double High, double Default) Argument(FaultKind kind) => kind switch
    {
        FaultKind.FilterClog => (0.0, 1.0, 0.4),
        FaultKind.SupplyHigh => (0.8, 1.2, 1.1),
        FaultKind.SupplyLow => (0.8, 1.0, 0.9),
        FaultKind.LegOpen => (1.0, 3.0, 3.0),
        FaultKind.SupplyPhaseLost => (1.0, 3.0, 3.0),
        FaultKind.LegShorted => (1.0, 3.0, 0.0),
        FaultKind.LegHigh => (1.0, 2.0, 1.1),
        FaultKind.EarthLeakage => (0.0, 1000.0, 60.0),
        FaultKind.ElementDisplaced => (0.0, 1.0, 0.5),
        FaultKind.OutletDisplaced => (0.0, 1.0, 0.1),
        _ => (1.0, 0.0, 0.0),
    };
}
