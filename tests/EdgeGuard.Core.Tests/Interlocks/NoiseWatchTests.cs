using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Tests.Thermal;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>A heater under a permit whose sensors scatter, until one of them reads a copy.</summary>
public sealed class NoiseWatchTests
{
    private const int WindowScans = 100;
    private const int LearnScans = 11 * WindowScans;

    private readonly Random _random = new(5);
    private double _sigma = 0.2;
    private double _resolution;
    private double _celsius = 300;
    private bool _frozen;
    private double _frozenSigma;

    [Trait("requirement", "SENS-9")]
    [Theory]
    [InlineData(0)]
    [InlineData(0.01)]
    public void A_sensor_whose_noise_is_gone_is_lost_and_stays_so_until_it_moves(double dither)
    {
        TestHall hall = Learnt();
        Assert.InRange(hall[0].Floors.ElementK, 0.1, 0.2); // the quietest of ten windows
        hall.Run(20 * WindowScans);
        Assert.Equal((UnitState.Heating, FunctionState.Healthy), (hall[0].State, hall[0].Functions[(int)FunctionId.Sens].State));

        (_frozen, _frozenSigma) = (true, dither);
        hall.RunUntil(static h => h[0].State == UnitState.Tripped, 2 * WindowScans);
        Assert.Equal(FunctionId.Sens, hall[0].FirstOut);
        Assert.Equal((Finding.BelowNoise, (double)(int)SignalRole.ElementTemperature), (hall[0].Functions[(int)FunctionId.Sens].Finding, hall[0].Functions[(int)FunctionId.Sens].Value));

        // The permit is gone and nothing is judged any more; what was found stands until the sensor moves.
        hall.Run(100).Request(0, RequestKind.Reset).Run();
        Assert.Equal(UnitState.Tripped, hall[0].State);
        _frozen = false;
        hall.Run(20).Request(0, RequestKind.Reset).Run();
        Assert.Equal(UnitState.Ready, hall[0].State);
    }

    // An input that shows whole kelvins repeats itself for minutes while it lives: it must be neither learnt nor judged.
    // At 300.436 °C with a noise of 0.05 K every tenth reading shows 301: it changes, and still 100 readings alike have a chance of 2·10⁻⁹.
    [Trait("requirement", "SENS-10")]
    [Theory]
    [InlineData(300)]
    [InlineData(300.436)]
    public void The_resolution_of_a_register_is_not_mistaken_for_a_frozen_sensor(double celsius)
    {
        (_sigma, _resolution, _celsius) = (0.05, 1, celsius);
        TestHall hall = Hall();
        var told = new List<GuardEvent>();
        hall.AfterStep += h => told.AddRange(h.Output.Events.Take(h.Output.EventCount));
        Learn(hall);
        Assert.Contains(told, static e => e.Id == EventId.NotLearnable && e.Detail == (long)SignalRole.ElementTemperature);
        Assert.Contains(told, static e => e.Id == EventId.Learnt && e.Detail == (long)SignalRole.GasFlow && e.Value > 0);
        Assert.Equal(0, hall[0].Floors.ElementK);
        hall.Run(30 * WindowScans);
        Assert.Equal(UnitState.Heating, hall[0].State);
    }

    // Tenths of a kelvin on a noise of a twentieth: half of the readings repeat the one before, and it still lives and is judged.
    [Trait("requirement", "SENS-10")]
    [Fact]
    public void A_resolution_about_the_noise_is_judged_and_lives()
    {
        (_sigma, _resolution) = (0.05, 0.1);
        TestHall hall = Learnt();
        Assert.True(hall[0].Floors.ElementK > 0);
        hall.Run(100 * WindowScans);
        Assert.Equal(UnitState.Heating, hall[0].State);
        _frozen = true;
        hall.RunUntil(static h => h[0].State == UnitState.Tripped, 2 * WindowScans);
    }

    [Trait("requirement", "SENS-9")]
    [Fact]
    public void A_sensor_that_is_frozen_while_it_is_learnt_teaches_nothing()
    {
        _frozen = true;
        TestHall hall = Learnt();
        Assert.Equal(0, hall[0].Floors.ElementK);
        Assert.True(hall[0].Floors.OutletK > 0);
    }

    // At standstill everything is even and quiet, a meter above all.
    [Fact]
    public void Nothing_is_judged_without_gas_and_permit()
    {
        TestHall hall = Learnt();
        hall.Request(0, RequestKind.Stop).Run(2);
        (_sigma, _frozen) = (0, true);
        hall.Run(10 * WindowScans);
        Assert.NotEqual(UnitState.Tripped, hall[0].State);
    }

    [Trait("requirement", "KEEP-4")]
    [Fact]
    public void A_kept_floor_judges_in_the_next_run_without_learning()
    {
        TestHall hall = Hall(new KeptFigures { Floors = new LearntFloors(0.15, double.NaN, -1) });
        Assert.Equal(new LearntFloors(0.15, 0, 0), hall[0].Floors);
        _frozen = true;
        hall.RunUntil(static h => h[0].State == UnitState.Tripped, 2 * WindowScans);
        Assert.Equal(FunctionId.Sens, hall[0].FirstOut);
    }

    private TestHall Learnt()
    {
        TestHall hall = Hall();
        Learn(hall);
        return hall;
    }

    private static void Learn(TestHall hall)
    {
        hall.Request(0, RequestKind.Learn, FunctionId.Sens).Run(LearnScans);
        Assert.Equal(UnitState.Heating, hall[0].State);
    }

    private TestHall Hall(params KeptFigures[] kept)
    {
        SiteTable site = TestSite.Of(static i => TestSite.N1()(i) with
        {
            SetpointC = 850,
            Elem = TestSite.N1()(i).Elem with { AlarmC = 900, TripC = 950 },
            Cool = TestSite.N1()(i).Cool with { RampUpKPerMin = 1 }, // heats for as long as the test lasts
            Sens = new SensorTable { NoiseMs = WindowScans * TestSite.ScanMs },
        });
        var hall = new TestHall(site, kept);
        hall.Cabinets[0].Power = 5; // too little for NORS
        double element = 300;
        hall.AfterStep = h =>
        {
            TestCabinet cabinet = h.Cabinets[0];
            element = _frozen ? element : Read(_celsius + (_sigma * Noise.Normal(_random)));
            cabinet.Element = element + (_frozen ? _frozenSigma * Noise.Normal(_random) : 0);
            cabinet.Outlet = 200 + (_sigma * Noise.Normal(_random));
            cabinet.Flow = 140 + (_sigma * Noise.Normal(_random));
        };
        return hall.BringTo(0, UnitState.Heating);
    }

    private double Read(double value) => _resolution > 0 ? Math.Round(value / _resolution) * _resolution : value;
}
