using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Ledger;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Cabinets;

/// <summary>What lets power flow in the cabinet and what takes it away, as its register map states.</summary>
public sealed class CabinetTests
{
    private const int ContactorMs = 40;

    [Fact]
    public void Power_needs_chain_relay_enable_and_a_changing_token_all_four()
    {
        for (int mask = 0; mask < 16; mask++)
        {
            var driver = Manual50();
            if ((mask & 1) == 0)
            {
                driver.Fault(FaultKind.ChainOpen);
            }

            driver.Write(CabinetRegisters.RelayAddress, (ushort)((mask >> 1) & 1));
            driver.Write(CabinetRegisters.EnableAddress, (ushort)((mask >> 2) & 1));
            for (int second = 0; second < 5; second++)
            {
                if ((mask & 8) != 0)
                {
                    driver.Renew();
                }

                driver.Plant.Advance(1000);
            }

            Assert.Equal(mask == 15 ? 18.0 : 0.0, driver.Heater.PowerKw, 9);
        }
    }

    [Theory]
    [InlineData("N-1", 2000)]
    [InlineData("A-1", 2000)]
    [InlineData("T-40", 1000)]
    public void A_token_that_stops_changing_takes_the_power_within_watchdog_and_contactor_time(string name, int watchdogMs)
    {
        Assert.True(PlantProfiles.TryFind(name, out PlantProfile? profile));
        var driver = new Driver(profile);
        driver.Energise();
        driver.Write(CabinetRegisters.ManualAddress, 1);
        driver.Write(CabinetRegisters.ManualOutputAddress, 500);
        driver.Run(5);
        long offMs = OffAfter(driver, () =>
        {
            // The same token again is no sign of life.
            ushort token = driver.Cabinet.Registers.Token;
            driver.Write(CabinetRegisters.TokenAddress, token);
        });

        // The last change was 500 ms before the end of the run.
        Assert.InRange(offMs + 500, watchdogMs, watchdogMs + ContactorMs + 5);
        PowerTransition off = driver.Cabinet.Ledger.Power.Transitions[^1];
        Assert.Equal(PermitState.WatchdogExpired, off.Permit);
        Assert.InRange(off.SinceTokenMs, watchdogMs, watchdogMs + ContactorMs + 5);
    }

    [Fact]
    public void A_zero_token_and_the_relay_act_within_the_contactor_time_and_the_enable_at_once()
    {
        foreach ((int address, int limitMs) in new[] { (CabinetRegisters.TokenAddress, ContactorMs + 5), (CabinetRegisters.RelayAddress, ContactorMs + 5), (CabinetRegisters.EnableAddress, 5) })
        {
            Driver driver = Manual50();
            driver.Run(3);
            Assert.Equal(18.0, driver.Heater.PowerKw, 9);
            driver.Write(address, 0);
            Assert.InRange(OffAfter(driver, () => { }), 0, limitMs);
            Assert.Equal(PermitState.Withdrawn, driver.Cabinet.Ledger.Power.Transitions[^1].Permit);
        }
    }

    [Fact]
    public void A_stuck_enable_ignores_its_register_and_reads_one_but_the_relay_still_works()
    {
        Driver driver = Manual50();
        driver.Run(2);
        driver.Fault(FaultKind.EnableStuck);
        driver.Write(CabinetRegisters.EnableAddress, 0);
        driver.Run(2);
        Assert.Equal(18.0, driver.Heater.PowerKw, 9);
        ushort[] words = new ushort[1];
        new ControllerDevice(driver.Cabinet).ReadRegisters(Modbus.ModbusTable.HoldingRegisters, CabinetRegisters.EnableAddress, words);
        Assert.Equal(1, words[0]);
        driver.Write(CabinetRegisters.RelayAddress, 0);
        driver.Run(0.1);
        Assert.Equal(0.0, driver.Heater.PowerKw);
    }

    [Fact]
    public void A_shorted_leg_leaves_half_of_the_rated_power_until_the_contactor_opens()
    {
        Driver driver = Manual50();
        driver.Run(2);
        driver.Fault(FaultKind.LegShorted);
        driver.Write(CabinetRegisters.EnableAddress, 0);
        driver.Run(1);
        Assert.Equal(18.0, driver.Heater.PowerKw, 9);
        driver.Write(CabinetRegisters.RelayAddress, 0);
        driver.Run(1);
        Assert.Equal(0.0, driver.Heater.PowerKw);
    }

    [Fact]
    public void A_welded_contactor_leaves_the_shorted_leg_powered_whatever_is_withdrawn()
    {
        Driver driver = Manual50();
        driver.Run(2);
        driver.Fault(FaultKind.LegShorted);
        driver.Fault(FaultKind.ContactorWelded);
        driver.Write(CabinetRegisters.EnableAddress, 0);
        driver.Write(CabinetRegisters.RelayAddress, 0);
        driver.Write(CabinetRegisters.TokenAddress, 0);
        driver.Plant.Advance(5000);
        Assert.Equal(18.0, driver.Heater.PowerKw, 9);
        Assert.NotEqual(0, driver.Cabinet.StatusWord() & (1 << 2));
        driver.Cabinet.Faults.Clear(FaultKind.ContactorWelded);
        driver.Plant.Advance(100);
        Assert.Equal(0.0, driver.Heater.PowerKw);
    }

    [Fact]
    public void A_welded_contactor_that_was_open_stays_open()
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Fault(FaultKind.ContactorWelded);
        driver.Plant.Advance(1000);
        Assert.False(driver.Cabinet.ContactorClosed);
    }

    [Fact]
    public void Ten_per_cent_over_voltage_gives_21_per_cent_more_power_and_an_open_leg_half()
    {
        Driver driver = Manual50();
        driver.Fault(FaultKind.SupplyHigh, 1.1);
        driver.Run(2);
        Assert.Equal(18.0 * 1.21, driver.Heater.PowerKw, 9);
        driver.Cabinet.Faults.Clear(FaultKind.SupplyHigh);
        driver.Fault(FaultKind.LegOpen);
        driver.Run(2);
        // Star without neutral: U line-to-line over two legs in series is half of U²/R of the balanced star.
        Assert.Equal(9.0, driver.Heater.PowerKw, 9);
    }

    [Fact]
    public void A_broken_outlet_thermocouple_in_automatic_asks_for_no_power()
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Energise();
        driver.Setpoint(300);
        driver.Run(10);
        Assert.True(driver.Heater.PowerKw > 1);
        driver.Fault(FaultKind.OutletBreak);
        driver.Run(1);
        Assert.Equal(0.0, driver.Heater.PowerKw);
        Assert.Equal(Thermocouple.BrokenC, driver.Cabinet.OutletIndicatedC);
    }

    [Fact]
    public void On_LOCAL_the_cabinet_heats_by_itself_to_its_setpoint_without_any_token()
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Cabinet.TurnKey(KeyPosition.Local);
        driver.Plant.Advance(25_000);
        Assert.Equal(0.0, driver.Heater.PowerKw);
        Assert.True(driver.Heater.FlowKgPerHour > 150, "own blower");
        driver.Plant.Advance(1_500_000);
        Assert.InRange(driver.Cabinet.OutletIndicatedC, 648, 652);
        Assert.InRange(driver.Cabinet.Ledger.ElementMaxC, 700, 760);
        Assert.Equal(0, driver.Cabinet.StatusWord() & 1);
    }

    [Fact]
    public void Back_from_LOCAL_without_token_the_power_goes()
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Cabinet.TurnKey(KeyPosition.Local);
        driver.Plant.Advance(120_000);
        Assert.True(driver.Heater.PowerKw > 1);
        driver.Cabinet.TurnKey(KeyPosition.Supervised);
        driver.Plant.Advance(ContactorMs + 5);
        Assert.Equal(0.0, driver.Heater.PowerKw);
    }

    [Fact]
    public void Key_on_LOCAL_while_steady_leads_the_blower_stop_into_the_element()
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Steady();
        driver.Cabinet.TurnKey(KeyPosition.Local);
        driver.Plant.Advance(60_000);
        driver.Fault(FaultKind.BlowerStop);
        driver.Plant.Advance(180_000);
        Assert.True(driver.Cabinet.Ledger.ElementMaxC > 1100, "destruction limit passed without the guard");
        // The controller cuts back to nothing for some 20 s before it asks for full power.
        Assert.True(driver.Cabinet.Ledger.Flow.PoweredUnderMinimumMs > 140_000);
    }

    private static Driver Manual50()
    {
        var driver = new Driver(PlantProfiles.N1);
        driver.Energise();
        driver.Write(CabinetRegisters.ManualAddress, 1);
        driver.Write(CabinetRegisters.ManualOutputAddress, 500);
        return driver;
    }

    /// <summary>Advances in steps of 5 ms until power is off; returns the time that took.</summary>
    private static long OffAfter(Driver driver, Action eachStep)
    {
        long start = driver.Plant.NowMs;
        while (driver.Heater.PowerKw > 0)
        {
            Assert.True(driver.Plant.NowMs - start < 10_000, "power never goes");
            eachStep();
            driver.Plant.Advance(5);
        }

        // Power was off during the whole last step.
        return driver.Plant.NowMs - start - 5;
    }
}
