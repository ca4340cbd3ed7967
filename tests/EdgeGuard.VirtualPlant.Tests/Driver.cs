using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Physics;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests;

/// <summary>Drives one cabinet as a guard would: a token that changes, relay, enable, setpoint and blower.</summary>
internal sealed class Driver
{
    private ushort _token;

    public Driver(PlantProfile profile)
    {
        Plant = new Plant([profile], new DateTime(2026, 1, 5, 6, 0, 0, DateTimeKind.Utc));
        Cabinet = Plant.Cabinets[0];
    }

    public Plant Plant { get; }

    public Cabinet Cabinet { get; }

    public HeaterState Heater => Cabinet.Heater;

    public void Write(int address, params ushort[] words)
    {
        lock (Cabinet.Gate)
        {
            Assert.True(Cabinet.TryWriteRegisters(address, words), $"write refused at {address}");
        }
    }

    public void Setpoint(double celsius)
    {
        ushort[] words = new ushort[2];
        FloatWords.PutHighFirst((float)celsius, words);
        Write(CabinetRegisters.SetpointAddress, words);
    }

    public void Renew()
    {
        _token = (ushort)(_token == 0xFFFF ? 1 : _token + 1);
        Write(CabinetRegisters.TokenAddress, _token);
    }

    /// <summary>Advances with a token that changes every 500 ms.</summary>
    public void Run(double seconds)
    {
        for (long left = (long)Math.Round(seconds * 1000); left > 0; left -= 500)
        {
            Renew();
            Plant.Advance((int)Math.Min(500, left));
        }
    }

    /// <summary>Energises at steady state near the setpoint, at the profile's run demand, in automatic.</summary>
    public void Steady(double seconds = 1500)
    {
        Heater.ElementC = Cabinet.Profile.SetpointC * 1.1;
        Heater.LiningC = Cabinet.Profile.SetpointC;
        Heater.OutletJunctionC = Cabinet.Profile.SetpointC;
        Heater.DuctC = Cabinet.Profile.SetpointC;
        Energise();
        Setpoint(Cabinet.Profile.SetpointC);
        Run(seconds);
    }

    /// <summary>Turns the blower so that the true flow stays at a figure whatever the temperature, and runs for half a second.</summary>
    public void RunAtFlow(double flowKgPerHour)
    {
        double share = flowKgPerHour / Cabinet.Profile.ColdFullFlowKgPerHour / HeaterModel.HotFactor(Cabinet.Profile, Heater.DuctC);
        Write(CabinetRegisters.BlowerAddress, (ushort)Math.Round(Math.Min(share, 1.0) * 1000));
        Run(0.5);
    }

    public void Energise()
    {
        Write(CabinetRegisters.BlowerAddress, (ushort)(Cabinet.Profile.BlowerRunPercent * 10));
        Write(CabinetRegisters.RelayAddress, 1);
        Write(CabinetRegisters.EnableAddress, 1);
    }

    public void Fault(FaultKind kind, double argument = 0.0) => Cabinet.Faults.Set(kind, argument);

    /// <summary>The heater alone with a given flow and power, outside of any cabinet.</summary>
    public static void RunHeater(PlantProfile profile, HeaterState state, double seconds, double powerKw, double flowKgPerHour)
    {
        for (int step = 0; step < (int)Math.Round(seconds * 200); step++)
        {
            double share = flowKgPerHour / profile.ColdFullFlowKgPerHour / HeaterModel.HotFactor(profile, state.DuctC);
            state.BlowerSpeed = share;
            HeaterModel.Step(profile, state, powerKw, share, 1.0, 5);
        }
    }
}
