using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Modbus.Tests.Pdu;

public sealed class SpecificationExampleTests
{
    public static TheoryData<string> Sections => [.. SpecificationExamples.All.Select(e => e.Section)];

    [Trait("requirement", "MODB-1")]
    [Theory]
    [MemberData(nameof(Sections))]
    public void The_server_answers_each_printed_request_with_the_printed_answer(string section)
    {
        (_, string request, string answer) = SpecificationExamples.All.Single(e => e.Section == section);
        ServerEngine engine = new(new Dictionary<byte, IModbusDevice> { [0x11] = SpecificationExamples.Device() });
        byte[] output = new byte[260];

        engine.Process(Hex.Frame(0x1501, 0x11, Hex.Bytes(request)), output, out int consumed, out int produced);

        Assert.Equal(7 + Hex.Bytes(request).Length, consumed);
        Assert.Equal(Hex.Text(Hex.Frame(0x1501, 0x11, Hex.Bytes(answer))), Hex.Text(output.AsSpan(0, produced)));
    }

    [Trait("requirement", "MODB-1")]
    [Theory]
    [MemberData(nameof(Sections))]
    public void The_client_writes_each_printed_request_and_takes_the_printed_answer(string section)
    {
        (_, string request, string answer) = SpecificationExamples.All.Single(e => e.Section == section);
        ClientEngine engine = new();
        ushort[] words = new ushort[32];
        Begin(engine, section);

        Assert.Equal(request, Hex.Text(engine.Request[7..]));
        ClientStatus status = engine.Take(Hex.Frame(1, 0x11, Hex.Bytes(answer)), words, out _);

        Assert.Equal(ClientStatus.Completed, status);
        Assert.Equal(section == "7" ? ModbusOutcome.DeviceException : ModbusOutcome.Good, engine.Result.Outcome);
        Assert.Equal(section == "7" ? ModbusExceptionCode.IllegalDataAddress : ModbusExceptionCode.None, engine.Result.Exception);
        Assert.Equal(ExpectedWords(section), words[..ExpectedWords(section).Length]);
    }

    [Theory]
    [InlineData("6.11", "CD 01", "1 0 1 1 0 0 1 1 1 0")] // the bit table printed with the example
    public void The_printed_coil_pattern_reaches_the_device_bit_by_bit(string section, string packed, string bits)
    {
        string request = SpecificationExamples.All.Single(e => e.Section == section).Request;
        Assert.EndsWith(packed, request, StringComparison.Ordinal);
        MemoryDevice device = new();
        new ServerEngine(new Dictionary<byte, IModbusDevice> { [1] = device })
            .Process(Hex.Frame(1, 1, Hex.Bytes(request)), new byte[260], out _, out _);
        Assert.Equal(bits, string.Join(' ', device.Coils[0x13..0x1D].Select(b => b ? 1 : 0)));
        Assert.False(device.Coils[0x1D]);
    }

    [Fact]
    public void The_printed_masks_change_the_printed_bits()
    {
        // 6.16: 0x12 with AND mask 0xF2 and OR mask 0x25 becomes 0x17.
        MemoryDevice device = new();
        device.HoldingRegisters[4] = 0x12;
        new ServerEngine(new Dictionary<byte, IModbusDevice> { [1] = device })
            .Process(Hex.Frame(1, 1, Hex.Bytes("16 00 04 00 F2 00 25")), new byte[260], out _, out _);
        Assert.Equal(0x17, device.HoldingRegisters[4]);
    }

    [Fact]
    public void A_read_and_write_writes_first()
    {
        // 6.17: "The write operation is performed before the read."
        MemoryDevice device = new();
        byte[] output = new byte[260];
        new ServerEngine(new Dictionary<byte, IModbusDevice> { [1] = device })
            .Process(Hex.Frame(1, 1, Hex.Bytes("17 00 0E 00 01 00 0E 00 01 02 12 34")), output, out _, out int produced);
        Assert.Equal("17 02 12 34", Hex.Text(output.AsSpan(7, produced - 7)));
    }

    [Fact]
    public void Limits_are_those_of_the_specification()
    {
        // V1.1b3: PDU 253 (4.1), 0x7D0, 0x7D, 0x7B0, 0x7B (6.1 to 6.4, 6.11, 6.12), 0x79 (6.17).
        Assert.Equal(
            [253, 0x7D0, 0x7D, 0x7B0, 0x7B, 0x79],
            new[]
            {
                PduLimits.MaxPduLength, PduLimits.MaxReadBits, PduLimits.MaxReadRegisters, PduLimits.MaxWriteCoils,
                PduLimits.MaxWriteRegisters, PduLimits.MaxReadWriteWriteRegisters,
            });
    }

    private static void Begin(ClientEngine engine, string section)
    {
        const byte Unit = 0x11;
        switch (section)
        {
            case "6.1": engine.BeginReadBits(Unit, ModbusTable.Coils, 0x13, 0x13); break;
            case "6.2": engine.BeginReadBits(Unit, ModbusTable.DiscreteInputs, 0xC4, 0x16); break;
            case "6.3": engine.BeginReadRegisters(Unit, ModbusTable.HoldingRegisters, 0x6B, 3); break;
            case "6.4": engine.BeginReadRegisters(Unit, ModbusTable.InputRegisters, 8, 1); break;
            case "6.5": engine.BeginWriteCoil(Unit, 0xAC, true); break;
            case "6.6": engine.BeginWriteRegister(Unit, 1, 3); break;
            case "6.11":
                engine.BeginWriteCoils(Unit, 0x13, [true, false, true, true, false, false, true, true, true, false]);
                break;
            case "6.12": engine.BeginWriteRegisters(Unit, 1, [0x000A, 0x0102]); break;
            case "6.7": engine.BeginReadExceptionStatus(Unit); break;
            case "6.8": engine.BeginReturnQueryData(Unit, 0xA537); break;
            case "6.16": engine.BeginMaskWriteRegister(Unit, 4, 0xF2, 0x25); break;
            case "6.17": engine.BeginReadWriteRegisters(Unit, 3, 6, 14, [0xFF, 0xFF, 0xFF]); break;
            case "6.21": engine.BeginReadDeviceIdentification(Unit, DeviceIdAccess.Basic, 0); break;
            default: engine.BeginReadBits(Unit, ModbusTable.Coils, 0x04A1, 1); break;
        }
    }

    private static ushort[] ExpectedWords(string section) => section switch
    {
        // Status of outputs 27-20, 35-28, 38-36 as the section prints them, lowest first.
        "6.1" => [1, 0, 1, 1, 0, 0, 1, 1, 1, 1, 0, 1, 0, 1, 1, 0, 1, 0, 1],
        "6.2" => [0, 0, 1, 1, 0, 1, 0, 1, 1, 1, 0, 1, 1, 0, 1, 1, 1, 0, 1, 0, 1, 1],
        "6.3" => [555, 0, 100],
        "6.4" => [10],
        "6.7" => [0x6D],
        "6.17" => [0x00FE, 0x0ACD, 1, 3, 0x0D, 0xFF],
        _ => [],
    };
}
