namespace EdgeGuard.Reports.Text;

/// <summary>The numbers of one unit for a <see cref="TextPicture"/>. A number that is not known is NaN, a state null.</summary>
public sealed record PlantView
{
    /// <summary>Name of the unit.</summary>
    public required string Unit { get; init; }

    /// <summary>Gas and what the unit does, such as "nitrogen, calcining".</summary>
    public string Purpose { get; init; } = "";

    /// <summary>State of the unit in words.</summary>
    public required string State { get; init; }

    /// <summary>True when the unit is tripped; the state is then shown as a fault.</summary>
    public bool Tripped { get; init; }

    /// <summary>Time in words.</summary>
    public string Time { get; init; } = "";

    /// <summary>Key switch of the cabinet: true = supervised, false = local.</summary>
    public bool? KeySupervised { get; init; }

    /// <summary>The permit token is alive.</summary>
    public bool? Permit { get; init; }

    /// <summary>The trip relay is energised.</summary>
    public bool? Relay { get; init; }

    /// <summary>Firing is enabled.</summary>
    public bool? Enable { get; init; }

    /// <summary>Electrical power, kW.</summary>
    public double PowerKw { get; init; } = double.NaN;

    /// <summary>Rated power, kW.</summary>
    public double RatedKw { get; init; } = double.NaN;

    /// <summary>Output of the controller, per cent.</summary>
    public double OutputPercent { get; init; } = double.NaN;

    /// <summary>Led setpoint, °C.</summary>
    public double SetpointC { get; init; } = double.NaN;

    /// <summary>Blower demand, per cent.</summary>
    public double BlowerPercent { get; init; } = double.NaN;

    /// <summary>Gas flow, kg/h.</summary>
    public double FlowKgPerHour { get; init; } = double.NaN;

    /// <summary>Flow limit, kg/h.</summary>
    public double FlowLimitKgPerHour { get; init; } = double.NaN;

    /// <summary>Inlet gas, °C.</summary>
    public double InletC { get; init; } = double.NaN;

    /// <summary>Element, °C.</summary>
    public double ElementC { get; init; } = double.NaN;

    /// <summary>Element trip limit, °C.</summary>
    public double ElementTripC { get; init; } = double.NaN;

    /// <summary>Outlet gas, °C.</summary>
    public double OutletC { get; init; } = double.NaN;

    /// <summary>Outlet trip limit, °C.</summary>
    public double OutletTripC { get; init; } = double.NaN;
}
