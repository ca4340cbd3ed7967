namespace EdgeGuard.VirtualPlant.Electrical;

/// <summary>
/// The cabinet's meter: true RMS over one whole firing cycle, shown until the next one is complete. A zero-cross burst
/// looked at for less than a cycle would show full current or none, by chance.
/// </summary>
/// <param name="cycleMs">Firing cycle, ms.</param>
public sealed class CycleMeter(int cycleMs)
{
    private ThreePhase _currents;

    private ThreePhase _voltages;

    private double _leakage;

    private int _elapsedMs;

    /// <summary>Currents of the last whole cycle, A.</summary>
    public ThreePhase CurrentsA { get; private set; }

    /// <summary>Voltages of the last whole cycle, V.</summary>
    public ThreePhase VoltagesV { get; private set; }

    /// <summary>Leakage of the last whole cycle, mA.</summary>
    public double LeakageMa { get; private set; }

    /// <summary>Takes the squares of one step.</summary>
    public void Add(ThreePhase currentSquaredA2, ThreePhase voltageSquaredV2, double leakageSquaredMa2, int stepMs)
    {
        _currents = _currents.Plus(currentSquaredA2.Times(stepMs));
        _voltages = _voltages.Plus(voltageSquaredV2.Times(stepMs));
        _leakage += leakageSquaredMa2 * stepMs;
        _elapsedMs += stepMs;
        if (_elapsedMs >= cycleMs)
        {
            Show();
        }
    }

    private void Show()
    {
        CurrentsA = _currents.Times(1.0 / _elapsedMs).Root();
        VoltagesV = _voltages.Times(1.0 / _elapsedMs).Root();
        LeakageMa = Math.Sqrt(_leakage / _elapsedMs);
        _currents = default;
        _voltages = default;
        _leakage = 0.0;
        _elapsedMs = 0;
    }
}
