namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>What drives the controller's output in automatic.</summary>
public interface IControlLoop
{
    /// <summary>Output 0 to 100 %.</summary>
    double OutputPercent { get; }

    /// <summary>Advances the loop by one step in automatic.</summary>
    /// <param name="values">Setpoint and process values.</param>
    /// <param name="limitPercent">Output limit, 0 to 100 %.</param>
    /// <param name="seconds">Length of the step, s.</param>
    void Step(in LoopValues values, double limitPercent, double seconds);

    /// <summary>Puts the output to a value: zero when firing is blocked, the manual output in manual.</summary>
    void Track(in LoopValues values, double percent);
}
