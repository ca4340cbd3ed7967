using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Acceptance.Tests.ClosedLoop;

/// <summary>
/// One powered cool-down from its request to the removal of power, watched from outside the guard: the indicated outlet
/// every scan, and the difference over 60 s of it.
/// </summary>
internal sealed class CoolDownCourse
{
    private const int WindowScans = 600;

    private readonly List<(double Seconds, double OutletC, double PowerKw)> _scans = [];

    /// <summary>Asks for the cool-down and follows it until power is removed.</summary>
    public CoolDownCourse(GuardedPlant plant)
    {
        StartC = plant.Cabinet.OutletIndicatedC;
        plant.Ask(RequestKind.Cool);
        double start = plant.Seconds;
        double ledC = plant.Decision.LedSetpointC;
        while (plant.Decision.State == UnitState.LedCooldown)
        {
            _scans.Add((plant.Seconds - start, plant.Cabinet.OutletIndicatedC, plant.Cabinet.Heater.PowerKw));
            TurnedS = TurnedS > 0 || plant.Decision.LedSetpointC >= ledC ? TurnedS : plant.Seconds - start;
            Assert.True(plant.Seconds - start < 7_200, $"still cooling after 2 h at {plant.Cabinet.OutletIndicatedC:F0} °C");
            plant.Scan();
        }

        RemovedKw = _scans[^1].PowerKw;
        EndC = _scans[^1].OutletC;
        PoweredS = _scans.FindLast(static s => s.PowerKw > 0).Seconds;
    }

    /// <summary>Indicated outlet at the request, °C.</summary>
    public double StartC { get; }

    /// <summary>Time from the request to the last power that the controller asked for, s.</summary>
    public double PoweredS { get; }

    /// <summary>Time from the request to the first step down of the led setpoint, s.</summary>
    public double TurnedS { get; }

    /// <summary>Indicated outlet at the removal of power, °C.</summary>
    public double EndC { get; }

    /// <summary>Power at the moment of removal, kW.</summary>
    public double RemovedKw { get; }

    /// <summary>Highest and lowest fall over 60 s, of windows that begin after some seconds and end with power left, K/min.</summary>
    public (double Least, double Most) Powered(double afterS)
    {
        double[] falls = [.. Falls().Where(f => f.BeginS >= afterS && f.EndS <= PoweredS).Select(static f => f.KPerMin)];
        return falls.Length == 0 ? (double.NaN, double.NaN) : (falls.Min(), falls.Max());
    }

    /// <summary>Highest fall over any 60 s between request and removal, K/min.</summary>
    public double Most => Falls().Select(static f => f.KPerMin).DefaultIfEmpty(0).Max();

    private IEnumerable<(double BeginS, double EndS, double KPerMin)> Falls() =>
        _scans.Skip(WindowScans).Zip(_scans, static (end, begin) => (begin.Seconds, end.Seconds, begin.OutletC - end.OutletC));
}
