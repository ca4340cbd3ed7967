using System.Net;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Acceptance.Tests.Conducted;

/// <summary>
/// A guard that is wrong in one respect: it heats and removes power as it should, then lowers the blower without the
/// proof that power is off. It exists to show that the ledger would catch the real one at it.
/// </summary>
internal sealed class WrongGuard : IDisposable
{
    // Registers of the virtual cabinet (config/pilot-hall/cabinet.csv).
    private const byte Controller = 1;
    private const ushort Token = 0;
    private const ushort Relay = 1;
    private const ushort Enable = 2;
    private const ushort ManualMode = 3;
    private const ushort ManualOutput = 4;
    private const ushort Blower = 7;

    private readonly PlantChild _plant;
    private readonly TcpModbusLink _link;

    public WrongGuard(PlantChild plant)
    {
        _plant = plant;
        _link = new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, plant.Ports[0]));
        _link.Connect(5_000);
    }

    /// <summary>Heats with some more than the power that holds 650 °C at 140 kg/h (plant profile N-1: 26.6 kW of 36).</summary>
    public void Heat(int minutes)
    {
        Write(Blower, 800);
        _plant.Command("advance 20000");
        Write(ManualMode, 1);
        Write(ManualOutput, 800);
        Write(Relay, 1);
        Write(Enable, 1);
        for (int second = 1; second <= minutes * 60; second++)
        {
            Write(Token, (ushort)second);
            _plant.Command("advance 1000");
        }

        Assert.InRange(_plant.Truth().ElementC, 650, 800);
    }

    public void RemovePower()
    {
        Write(Token, 0);
        Write(Relay, 0);
        Write(Enable, 0);
        Write(ManualOutput, 0);
    }

    /// <summary>Lowers the demand step by step until the true flow is at a figure.</summary>
    public void LowerBlowerTo(double flowKgPerHour)
    {
        for (int demand = 800; _plant.Truth().FlowKgPerHour > flowKgPerHour; demand -= 10)
        {
            Write(Blower, (ushort)demand);
            _plant.Command("advance 1000");
        }
    }

    public void Dispose() => _link.Dispose();

    private void Write(ushort address, ushort value) =>
        Assert.Equal(ModbusOutcome.Good, _link.WriteRegister(Controller, address, value, 5_000).Outcome);
}
