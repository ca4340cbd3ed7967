using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Thermal;

public sealed class DryFireTests
{
    // By hand, P/(m c): 15 kW into 3 kg of 0.65 kJ/(kg K) is 15/1.95 = 7.69 K/s; 0.5 kg is 46.2 K/s.
    [Theory]
    [InlineData(15, 3, 0.65, 7.69)]
    [InlineData(15, 0.5, 0.65, 46.15)]
    public void Rise_from_power_and_heat_capacity(double kw, double kg, double c, double kPerSecond) =>
        Assert.Equal(kPerSecond, DryFire.RiseKPerSecond(kw, kg, c), 0.005);

    // By hand, 4 q/(ρ c d) with 7100 kg/m3 and 0.7 kJ/(kg K) (iron-chromium-aluminium near 800 °C, from memory):
    // 4 × 60000/(7100 × 700 × 0.003) = 16.10 K/s; 4 × 50000/(7100 × 700 × 0.002) = 20.12 K/s.
    [Theory]
    [InlineData(6, 3, 16.10)]
    [InlineData(5, 2, 20.12)]
    public void Rise_from_the_surface_load(double q, double diameterMm, double kPerSecond) =>
        Assert.Equal(kPerSecond, DryFire.RiseKPerSecondFromSurfaceLoad(q, 7100, 0.7, diameterMm), 0.01);

    // Both forms describe the same wire: q = P/(π d L), m = ρ π d² L/4.
    [Fact]
    public void Both_forms_agree_for_one_and_the_same_wire()
    {
        double length = 68, d = 0.003, rho = 7100, kw = 36;
        double mass = rho * Math.PI * d * d * length / 4;
        double q = kw * 1000 / (Math.PI * d * length) / 10_000;
        Assert.Equal(DryFire.RiseKPerSecond(kw, mass, 0.68), DryFire.RiseKPerSecondFromSurfaceLoad(q, rho, 0.68, 3), 1e-9);
    }

    [Theory]
    [InlineData(850, 1100, 16.9, 14.79)]
    [InlineData(1260, 1350, 19.8, 4.545)]
    [InlineData(1100, 850, 10, 0)]
    [InlineData(850, 1100, double.PositiveInfinity, 0)]
    [InlineData(850, 1100, double.NaN, 0)]
    public void Time_from_trip_limit_to_destruction(double from, double to, double rise, double seconds) =>
        Assert.Equal(seconds, DryFire.SecondsBetween(from, to, rise), 0.01);

    [Theory]
    [InlineData(15, 0)]
    [InlineData(15, -1)]
    [InlineData(15, double.NaN)]
    [InlineData(double.NaN, 3)]
    public void Without_data_there_is_no_time(double kw, double kg) =>
        Assert.Equal(double.PositiveInfinity, DryFire.RiseKPerSecond(kw, kg, 0.65));
}
