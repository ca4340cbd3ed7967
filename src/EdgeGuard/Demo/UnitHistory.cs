using EdgeGuard.Reports.Charts;

namespace EdgeGuard.Demo;

/// <summary>Series and state bands of one unit.</summary>
internal sealed class UnitHistory
{
    private readonly List<ChartBand> _bands = [];
    private string _state = "";
    private double _since;
    private double _last;

    public List<(double T, double V)> Element { get; } = [];

    public List<(double T, double V)> Outlet { get; } = [];

    public List<(double T, double V)> Led { get; } = [];

    public List<(double T, double V)> Flow { get; } = [];

    public List<(double T, double V)> Power { get; } = [];

    public void Add(double seconds, GuardUnitView unit, bool sample)
    {
        _last = seconds;
        if (unit.State != _state)
        {
            Close(seconds);
            _state = unit.State;
            _since = seconds;
        }

        if (!sample)
        {
            return;
        }

        Element.Add((seconds, unit.ElementC));
        Outlet.Add((seconds, unit.OutletC));
        Led.Add((seconds, unit.State is "Heating" or "Holding" or "LedCooldown" ? unit.LedC : double.NaN));
        Flow.Add((seconds, unit.FlowKgPerHour));
        Power.Add((seconds, unit.PowerKw));
    }

    /// <summary>The state bands up to now.</summary>
    public IReadOnlyList<ChartBand> Bands()
    {
        Close(_last);
        _since = _last;
        return _bands;
    }

    private void Close(double seconds)
    {
        if (_state.Length > 0 && seconds > _since)
        {
            _bands.Add(new ChartBand(_state, _since, seconds, Tone(_state)));
        }
    }

    private static ChartTone Tone(string state) => state switch
    {
        "Tripped" => ChartTone.Fault,
        "Heating" or "Holding" => ChartTone.Hot,
        "LedCooldown" or "AfterCooling" => ChartTone.Cool,
        "PreFlow" => ChartTone.Waiting,
        _ => ChartTone.Neutral,
    };
}
