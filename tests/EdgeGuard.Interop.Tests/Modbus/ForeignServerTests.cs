using System.Diagnostics;
using System.Globalization;
using System.Net;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>Our client and a server of other hands (Debian package python3-pymodbus; peers/modbus_server.py says what it holds).</summary>
public sealed class ForeignServerTests : IDisposable
{
    private const int TimeoutMs = 5000;
    private readonly Process _peer;
    private readonly TcpModbusLink _link;

    public ForeignServerTests()
    {
        _peer = PeerProcess.Start("/usr/bin/python3", Path.Combine(AppContext.BaseDirectory, "peers", "modbus_server.py"));
        string line = _peer.StandardOutput.ReadLine() ?? throw new InvalidOperationException(
            "The peer did not start: run tests/tools/install-peers. It said: " + _peer.StandardError.ReadToEnd());
        _link = new TcpModbusLink(new IPEndPoint(IPAddress.Loopback, int.Parse(line, CultureInfo.InvariantCulture)));
        _link.Connect(TimeoutMs);
    }

    public void Dispose()
    {
        _link.Dispose();
        _peer.Kill();
        _peer.Dispose();
    }

    [Fact]
    public void All_eight_functions_work_against_a_foreign_server()
    {
        ushort[] words = new ushort[4];
        Good(_link.ReadRegisters(1, ModbusTable.HoldingRegisters, 20, words, TimeoutMs));
        Assert.Equal([20, 21, 22, 23], words);
        Good(_link.ReadRegisters(1, ModbusTable.InputRegisters, 30, words, TimeoutMs));
        Assert.Equal([1030, 1031, 1032, 1033], words);
        Good(_link.ReadBits(1, ModbusTable.Coils, 3, words, TimeoutMs));
        Assert.Equal([1, 0, 0, 1], words);
        Good(_link.ReadBits(1, ModbusTable.DiscreteInputs, 9, words, TimeoutMs));
        Assert.Equal([0, 1, 0, 0], words);

        Good(_link.WriteRegister(1, 20, 0xBEEF, TimeoutMs));
        Good(_link.WriteRegisters(1, 21, [1, 0xFFFF], TimeoutMs));
        Good(_link.ReadRegisters(1, ModbusTable.HoldingRegisters, 20, words, TimeoutMs));
        Assert.Equal([0xBEEF, 1, 0xFFFF, 23], words);
        Good(_link.WriteCoil(1, 3, false, TimeoutMs));
        Good(_link.WriteCoils(1, 4, [true, true], TimeoutMs));
        Good(_link.ReadBits(1, ModbusTable.Coils, 3, words, TimeoutMs));
        Assert.Equal([0, 1, 1, 1], words);
    }

    [Fact]
    public void A_foreign_exception_is_understood()
    {
        ModbusResult result = _link.ReadRegisters(1, ModbusTable.HoldingRegisters, 199, new ushort[4], TimeoutMs);
        Assert.Equal(new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress), result);
        Assert.True(_link.IsConnected);
    }

    [Fact]
    public void A_foreign_server_that_is_killed_is_a_lost_connection()
    {
        _peer.Kill();
        _peer.WaitForExit();
        Assert.Equal(ModbusOutcome.ConnectionLost, _link.WriteCoil(1, 0, true, TimeoutMs).Outcome);
    }

    private static void Good(ModbusResult result) => Assert.Equal(ModbusOutcome.Good, result.Outcome);
}
