namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>Main contactor: follows its coil after a delay; a welded one does not open.</summary>
public sealed class Contactor(int delayMs)
{
    private int _pendingMs;

    /// <summary>True while the main contacts are closed.</summary>
    public bool Closed { get; private set; }

    /// <summary>Advances the contactor by one step, before the power of that step is worked out.</summary>
    public void Step(bool coil, bool welded, int stepMs)
    {
        bool wanted = coil || (welded && Closed);
        if (wanted == Closed)
        {
            _pendingMs = 0;
            return;
        }

        if (_pendingMs >= delayMs)
        {
            Closed = wanted;
            _pendingMs = 0;
            return;
        }

        _pendingMs += stepMs;
    }
}
