using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Tests.Rtu;
using EdgeGuard.Modbus.Tests.Transports;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests;

/// <summary>Every exception from the device to the caller, over each transport, for a read and a write; the link stays usable.</summary>
public sealed class ExceptionPerTransportTests
{
    private const int TimeoutMs = 2000;

    [Theory]
    [InlineData("TCP")]
    [InlineData("RTU over TCP")]
    [InlineData("serial")]
    public void Every_exception_arrives_as_itself(string transport)
    {
        DiagnosticMemoryDevice device = new(100);
        using LoopbackServer loopback = new(new TcpModbusServerOptions { IsRtuOverTcp = transport == "RTU over TCP" }, device);
        using ModbusLink link = transport switch
        {
            "TCP" => new TcpModbusLink(loopback.EndPoint),
            "RTU over TCP" => new RtuOverTcpModbusLink(loopback.EndPoint),
            _ => new SerialModbusLink(new SerialLineOptions { PortName = "fake" }, Served(device), new RtuLinkOptions()),
        };
        link.Connect(TimeoutMs);
        ushort[] words = [7];
        ModbusExceptionCode[] codes =
        [
            ModbusExceptionCode.IllegalFunction, ModbusExceptionCode.IllegalDataAddress, ModbusExceptionCode.IllegalDataValue,
            ModbusExceptionCode.ServerDeviceFailure, ModbusExceptionCode.Acknowledge, ModbusExceptionCode.ServerDeviceBusy,
            (ModbusExceptionCode)0x07, ModbusExceptionCode.MemoryParityError, ModbusExceptionCode.GatewayPathUnavailable,
            ModbusExceptionCode.GatewayTargetFailedToRespond, (ModbusExceptionCode)0xFF,
        ];
        foreach (ModbusExceptionCode code in codes)
        {
            device.Refusal = code;
            ModbusResult expected = new(ModbusOutcome.DeviceException, code);
            Assert.Equal(expected, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, words, TimeoutMs));
            Assert.Equal(expected, link.WriteRegister(1, 0, 1, TimeoutMs));
            Assert.Equal(expected, link.ReadExceptionStatus(1, out _, TimeoutMs));
        }

        device.Refusal = ModbusExceptionCode.None;
        Assert.Equal(7, words[0]);
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, words, TimeoutMs).IsGood);
        const string ByCode = "Exception01 3, Exception02 3, Exception03 3, Exception04 3, Exception05 3, Exception06 3, Exception08 3, Exception0A 3, Exception0B 3, OtherExceptions 6";
        Assert.Equal($"Requests 34, Answers 1, Exceptions 33, {ByCode}, Openings 1", link.Counters.Without(LinkCounter.SplitAnswers));
    }

    private static FakeLine Served(IModbusDevice device)
    {
        RtuServerEngine engine = new(new Dictionary<byte, IModbusDevice> { [1] = device });
        return new FakeLine
        {
            OnWrite = (line, request) =>
            {
                byte[] output = new byte[256];
                engine.Process(request, output, out _, out int produced);
                line.Queue(0, output[..produced]);
            },
        };
    }
}
