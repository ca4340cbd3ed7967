using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// The writes by which power is removed from one unit: one list for the core, which repeats them, and for the shell,
/// which offers them when the scan itself has broken. A command that removes nothing (blower, output limit) has none.
/// </summary>
public sealed class RemovalPaths
{
    /// <summary>A manual output below this is none, per cent.</summary>
    private const double NoOutputPercent = 0.5;

    private readonly double _tripSetpointC;
    private readonly bool _manualOutputWritten;

    /// <summary>Takes what is fixed for a unit.</summary>
    /// <param name="unit">Configuration of the unit.</param>
    public RemovalPaths(UnitTable unit)
    {
        ArgumentNullException.ThrowIfNull(unit);
        _tripSetpointC = unit.TripSetpointC;
        foreach (CommandTable command in unit.Commands)
        {
            _manualOutputWritten |= command.Role == CommandRole.ManualOutput;
        }
    }

    /// <summary>Value that removes power by this command, in its engineering unit; NaN when the command is no path now.</summary>
    /// <param name="role">The command.</param>
    /// <param name="image">Latest values of the unit: manual mode is a path only with a manual output of 0.</param>
    public double ValueOf(CommandRole role, ScanImage image)
    {
        ArgumentNullException.ThrowIfNull(image);
        return role switch
        {
            CommandRole.Heartbeat or CommandRole.Relay or CommandRole.Enable or CommandRole.ManualOutput => 0,
            CommandRole.ManualMode => ManualIsSafe(image) ? 1 : double.NaN,
            CommandRole.Setpoint => _tripSetpointC,
            _ => double.NaN,
        };
    }

    /// <summary>A manual output that cannot be written is no path, one that reads different is written first.</summary>
    private bool ManualIsSafe(ScanImage image)
    {
        ref SignalValue output = ref image[SignalRole.ManualOutput];
        return _manualOutputWritten && (!output.IsGood || output.Value < NoOutputPercent);
    }
}
