using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>Settings of COOL, HEAT and AFTC: ramps, rate caps and after-cooling.</summary>
public sealed record CoolTable
{
    /// <summary>Rate at which the setpoint is led up, K/min.</summary>
    public required double RampUpKPerMin { get; init; }

    /// <summary>Cap on the cool-down rate, K/min; the setpoint is led down at it.</summary>
    public required double RampDownKPerMin { get; init; }

    /// <summary>Signal judged by COOL.</summary>
    public required SignalRole Signal { get; init; }

    /// <summary>Window of the mean slope of COOL, ms.</summary>
    public required int WindowMs { get; init; }

    /// <summary>Tolerance above the cap before COOL alarms, K/min.</summary>
    public required double ToleranceKPerMin { get; init; }

    /// <summary>Heat-up rate of the element above which HEAT alarms, K/min.</summary>
    public required double HeatAlarmKPerMin { get; init; }

    /// <summary>After-cooling runs until element and outlet gas are below this (by 5 K), °C.</summary>
    public required double AfterCoolingBelowC { get; init; }

    /// <summary>
    /// Once the element was cold, heat counts as stored again only this far above <see cref="AfterCoolingBelowC"/>, K:
    /// without gas the lining soaks back into the element.
    /// </summary>
    public double SoakBackK { get; init; } = 30;

    /// <summary>Blower demand while heating, per cent.</summary>
    public required double BlowerRunPercent { get; init; }

    /// <summary>Blower demand while after-cooling once power is proved off, per cent.</summary>
    public required double BlowerAfterPercent { get; init; }

    /// <summary>The blower is eased towards the after-cooling demand at this rate, per cent per second.</summary>
    public required double BlowerEasePercentPerSecond { get; init; }
}
