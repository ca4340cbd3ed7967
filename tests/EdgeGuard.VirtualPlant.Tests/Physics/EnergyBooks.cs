using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Ledger;
using EdgeGuard.VirtualPlant.Physics;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Physics;

/// <summary>Books of a run, kept outside of the plant step by step from flow and temperatures.</summary>
internal sealed class EnergyBooks
{
    private const double StepS = 0.005;

    private readonly PlantProfile _profile;

    private readonly Driver _driver;

    public EnergyBooks(PlantProfile profile)
    {
        _profile = profile;
        _driver = new Driver(profile);
        _driver.Energise();
        _driver.Write(CabinetRegisters.ManualAddress, 1);
    }

    public double InKj { get; private set; }

    public double OutKj { get; private set; }

    public UnitLedgerReport Ledger => _driver.Cabinet.Ledger.Report();

    public double StoredKj =>
        (_profile.WireKg * _profile.WireKjPerKgK * (_driver.Heater.ElementC - _profile.AmbientC))
        + (_profile.LiningKjPerK * (_driver.Heater.LiningC - _profile.AmbientC));

    /// <summary>Manual output and blower in 0.1 %, a fault unless None, for some seconds.</summary>
    public void Act(int output, int blower, FaultKind fault, int seconds)
    {
        _driver.Write(CabinetRegisters.ManualOutputAddress, (ushort)output);
        _driver.Write(CabinetRegisters.BlowerAddress, (ushort)blower);
        _driver.Cabinet.Faults.ClearAll();
        if (fault != FaultKind.None)
        {
            _driver.Fault(fault, FaultNames.Argument(fault).Default);
        }

        for (int step = 0; step < seconds * 200; step++)
        {
            if (step % 100 == 0)
            {
                _driver.Renew();
            }

            Step();
        }
    }

    private void Step()
    {
        HeaterState s = _driver.Heater;
        double lossKw = _profile.LossWPerK / 1000.0 * (s.LiningC - _profile.AmbientC);
        _driver.Plant.Advance(5);
        double gasKw = s.FlowKgPerHour / 3600.0 * (GasEnthalpy.KjPerKg(_profile.Gas, s.GasC) - GasEnthalpy.KjPerKg(_profile.Gas, _profile.InletC));
        InKj += _driver.Cabinet.Electrical.PowerKw * StepS;
        OutKj += (gasKw + lossKw) * StepS;
    }
}
