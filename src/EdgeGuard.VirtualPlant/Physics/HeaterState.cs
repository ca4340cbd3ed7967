namespace EdgeGuard.VirtualPlant.Physics;

/// <summary>True state of one heater: temperatures of its lumps and of the gas, flow, and the last heat flows.</summary>
public sealed class HeaterState
{
    /// <summary>Element wire, °C.</summary>
    public double ElementC { get; set; }

    /// <summary>Inner lining, °C.</summary>
    public double LiningC { get; set; }

    /// <summary>Gas in the outlet duct where the outlet thermocouple sits, °C.</summary>
    public double DuctC { get; set; }

    /// <summary>Gas as it leaves the element, °C.</summary>
    public double GasC { get; set; }

    /// <summary>Junction of the outlet thermocouple, °C.</summary>
    public double OutletJunctionC { get; set; }

    /// <summary>Junction of the element thermocouple, °C.</summary>
    public double ElementJunctionC { get; set; }

    /// <summary>Blower speed, share of full speed, 0 to 1.</summary>
    public double BlowerSpeed { get; set; }

    /// <summary>True mass flow, kg/h.</summary>
    public double FlowKgPerHour { get; set; }

    /// <summary>Damped flow inside the meter before its cut-off, kg/h.</summary>
    public double MeterKgPerHour { get; set; }

    /// <summary>Electrical power of the last step, kW.</summary>
    public double PowerKw { get; set; }

    /// <summary>Heat taken up by the gas in the last step, kW.</summary>
    public double GasKw { get; set; }

    /// <summary>Heat given to ambient in the last step, kW.</summary>
    public double LossKw { get; set; }

    /// <summary>A cold heater with everything at one temperature.</summary>
    public static HeaterState Cold(double celsius) => new()
    {
        ElementC = celsius,
        LiningC = celsius,
        DuctC = celsius,
        GasC = celsius,
        OutletJunctionC = celsius,
        ElementJunctionC = celsius,
    };
}
