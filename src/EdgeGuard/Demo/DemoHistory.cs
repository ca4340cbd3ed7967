namespace EdgeGuard.Demo;

/// <summary>What the charts show: the guard's signals of each unit once a simulated second, and its states over time.</summary>
internal sealed class DemoHistory
{
    private readonly Dictionary<string, UnitHistory> _units = new(StringComparer.Ordinal);
    private long _nextMs;

    public IReadOnlyCollection<string> Units => _units.Keys;

    public UnitHistory this[string unit] => _units[unit];

    public void Add(double seconds, GuardRound round)
    {
        bool sample = (long)(seconds * 1000) >= _nextMs;
        if (sample)
        {
            _nextMs = ((long)(seconds * 1000)) + 1000;
        }

        foreach (GuardUnitView unit in round.Units)
        {
            if (!_units.TryGetValue(unit.Name, out UnitHistory? history))
            {
                _units[unit.Name] = history = new UnitHistory();
            }

            history.Add(seconds, unit, sample);
        }
    }
}
