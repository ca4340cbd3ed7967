using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Thermal;

public sealed class FlowDemandTests
{
    // NASA-9 (NASA/TP-2002-211556), air from 20 to 1100 °C: 1190.04 kJ/kg, that is 60 kW ↔ 181.5 kg/h, 15 kW ↔ 45.4,
    // 36 kW ↔ 108.9; nitrogen 1219.28 kJ/kg, 60 kW ↔ 177.2 kg/h. Tolerance: NASA-9 against Shomate.
    [Theory]
    [InlineData(Gas.Air, 60, 181.5)]
    [InlineData(Gas.Air, 15, 45.38)]
    [InlineData(Gas.Air, 36, 108.9)]
    [InlineData(Gas.Nitrogen, 60, 177.16)]
    public void Power_needs_the_flow_that_its_enthalpy_asks_for(Gas gas, double kw, double kgPerHour) =>
        Assert.Equal(kgPerHour, new FlowDemand(gas, 60, 1100).KgPerHour(kw, kw, 0, 20), 0.001 * kgPerHour);

    [Fact]
    public void It_is_the_inverse_of_the_adiabatic_outlet()
    {
        double flow = new FlowDemand(Gas.Nitrogen, 36, 850).KgPerHour(30, 20, 0, 40);
        Assert.Equal(850, GasEnthalpy.AdiabaticOutletC(Gas.Nitrogen, flow, 30, 40), 1e-6);
        Assert.Equal(flow, GasEnthalpy.MinimumFlowKgPerHour(Gas.Nitrogen, 30, 40, 850), 1e-9);
    }

    [Fact]
    public void The_larger_power_counts_and_the_stored_heat_is_taken_off()
    {
        var demand = new FlowDemand(Gas.Air, 36, 1100);
        double flow = demand.KgPerHour(18, 18, 0, 20);
        Assert.Equal(flow, demand.KgPerHour(5, 18, 0, 20));
        Assert.Equal(flow, demand.KgPerHour(18, 5, 0, 20));
        Assert.Equal(flow, demand.KgPerHour(20, 18, 2, 20), 1e-9);
        Assert.Equal(0, demand.KgPerHour(2, 2, 3, 20));
    }

    // A cooling wire gives heat to the gas; a negative or unknown stored heat must not lower the need.
    [Fact]
    public void What_is_not_known_asks_for_more_flow()
    {
        var demand = new FlowDemand(Gas.Air, 36, 1100);
        double flow = demand.KgPerHour(18, 18, 0, 20);
        Assert.Equal(demand.KgPerHour(36, 36, 0, 20), demand.KgPerHour(double.NaN, 5, 0, 20));
        Assert.Equal(flow, demand.KgPerHour(18, double.NaN, 0, 20));
        Assert.Equal(flow, demand.KgPerHour(18, 18, double.NaN, 20));
        Assert.Equal(flow, demand.KgPerHour(18, 18, -4, 20));
        Assert.True(demand.KgPerHour(18, 18, 0, double.NaN) > flow);
        Assert.Equal(double.PositiveInfinity, demand.KgPerHour(18, 18, 0, 1100));
        Assert.Equal(double.PositiveInfinity, new FlowDemand(Gas.None, 36, 1100).KgPerHour(18, 18, 0, 20));
        Assert.Equal(double.PositiveInfinity, new FlowDemand(Gas.Air, double.NaN, 1100).KgPerHour(double.NaN, 5, 0, 20));
    }

    [Fact]
    public void A_scan_allocates_nothing()
    {
        var demand = new FlowDemand(Gas.Air, 36, 1100);
        double sum = demand.KgPerHour(18, 18, 0, 20);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 10_000; i++)
        {
            sum += demand.KgPerHour(i % 36, 18, 0, 20 + (i % 50));
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.True(sum > 0);
    }
}
