using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Modbus.Tests.Server;

public sealed class ServerEngineTests
{
    private const int Size = 100;
    private readonly MemoryDevice _device = new(Size);
    private readonly byte[] _output = new byte[260];

    [Theory]
    // Function before everything: 01 although quantity and address are wrong too.
    [InlineData("00", 0x01)]
    [InlineData("07", 0x01)] // this device has no exception status
    [InlineData("2B 0E 01 00", 0x01)] // nor an identification
    [InlineData("0B", 0x01)]
    [InlineData("14 07", 0x01)]
    [InlineData("18 FF FF", 0x01)]
    // Sub-function and interface type with the function (6.8, 6.19), although the length is wrong too.
    [InlineData("08 00 01 00 00", 0x01)]
    [InlineData("08 00 0A 00", 0x01)]
    [InlineData("2B 0D 00", 0x01)]
    [InlineData("83 00 00 00 01", 0x01)] // 128 to 255 are no functions (V1.1b3, 4.1)
    // Quantity before address: 03 although the address is wrong too.
    [InlineData("01 FF FF 00 00", 0x03)]
    [InlineData("01 FF FF 07 D1", 0x03)]
    [InlineData("02 FF FF 07 D1", 0x03)]
    [InlineData("03 FF FF 00 00", 0x03)]
    [InlineData("03 FF FF 00 7E", 0x03)]
    [InlineData("04 FF FF 00 7E", 0x03)]
    [InlineData("0F FF FF 07 B1 F7", 0x03)]
    [InlineData("10 FF FF 00 7C F8", 0x03)]
    [InlineData("10 FF FF 00 00 00", 0x03)]
    [InlineData("17 FF FF 00 00 FF FF 00 01 02 00 00", 0x03)]
    [InlineData("17 FF FF 00 7E FF FF 00 01 02 00 00", 0x03)]
    [InlineData("17 FF FF 00 01 FF FF 00 00 00", 0x03)]
    [InlineData("17 FF FF 00 01 FF FF 00 7A F4", 0x03)] // 122 registers; 121 (0x79) is the most
    // Byte count and length before address.
    [InlineData("07 00", 0x03)]
    [InlineData("08 00 00 A5", 0x03)]
    [InlineData("16 FF FF 00 00 00", 0x03)]
    [InlineData("16 FF FF 00 00 00 00 00", 0x03)]
    [InlineData("17 FF FF 00 01 FF FF 00 01 03 00 00 00", 0x03)]
    [InlineData("17 FF FF 00 01 FF FF 00 02 04 00 00 00", 0x03)]
    [InlineData("17 FF FF FF FF FF FF FF FF", 0x03)]
    [InlineData("2B 0E 01", 0x03)]
    [InlineData("2B 0E 00 00", 0x03)] // no such access (6.21)
    [InlineData("2B 0E 05 00", 0x03)]
    [InlineData("0F FF FF 00 09 01 00", 0x03)]
    [InlineData("10 FF FF 00 02 03 00 00 00", 0x03)]
    [InlineData("10 FF FF 00 02 04 00 00 00", 0x03)]
    [InlineData("10 FF FF 00 02 04 00 00 00 00 00", 0x03)]
    [InlineData("03 FF FF 00", 0x03)]
    [InlineData("03 FF FF 00 01 00", 0x03)]
    [InlineData("06 FF FF", 0x03)]
    // Value before address (6.5).
    [InlineData("05 FF FF 00 01", 0x03)]
    [InlineData("05 FF FF FF FF", 0x03)]
    // Address, and address plus quantity.
    [InlineData("01 00 64 00 01", 0x02)]
    [InlineData("02 00 63 00 02", 0x02)]
    [InlineData("03 00 64 00 01", 0x02)]
    [InlineData("04 00 60 00 05", 0x02)]
    [InlineData("05 00 64 FF 00", 0x02)]
    [InlineData("06 00 64 00 01", 0x02)]
    [InlineData("0F 00 63 00 02 01 03", 0x02)]
    [InlineData("10 00 63 00 02 04 00 01 00 02", 0x02)]
    [InlineData("16 00 64 00 00 00 00", 0x02)]
    [InlineData("17 00 64 00 01 00 00 00 01 02 00 00", 0x02)] // the read
    [InlineData("17 00 00 00 01 00 63 00 02 04 00 00 00 00", 0x02)] // the write
    [InlineData("17 FF FF 00 02 00 00 00 01 02 00 00", 0x02)] // runs past 65536
    [InlineData("03 FF FF 00 02", 0x02)] // runs past 65536
    [InlineData("10 FF FF 00 02 04 00 00 00 00", 0x02)]
    public void A_wrong_request_gets_the_exception_of_the_first_check_that_fails(string pdu, int exception)
    {
        byte[] request = Hex.Bytes(pdu);

        ServerStatus status = Process(Hex.Frame(9, 1, request));

        Assert.Equal(ServerStatus.Refused, status);
        Assert.Equal(Hex.Text(Hex.Frame(9, 1, (byte)(request[0] | 0x80), (byte)exception)), Hex.Text(_output.AsSpan(0, 9)));
    }

    [Fact]
    public void Every_boundary_of_every_function_agrees_with_the_state_diagrams()
    {
        int[] addresses = [0, 1, Size - 2, Size - 1, Size, 0x7FFF, 0x8000, 0xFFFE, 0xFFFF];
        int[] seconds = [0, 1, 2, 7, 8, 9, 99, 100, 101, 122, 123, 124, 125, 126, 1967, 1968, 1969, 2000, 2001, 0xFF00, 0xFFFF];
        int count = 0;
        for (int function = 0; function < 256; function++)
        {
            foreach (int address in addresses)
            {
                foreach (int second in seconds)
                {
                    count += CheckLengths(function, address, second);
                }
            }
        }

        Assert.Equal(256 * addresses.Length * seconds.Length * 5, count);
    }

    [Theory]
    [InlineData("06 00 01 00 03")]
    [InlineData("06 00 01")] // neither length
    [InlineData("06 FF FF 00 03")] // nor address is looked at before (state diagram of V1.1b3, 6.6)
    public void A_function_that_the_device_does_not_offer_is_exception_01_before_anything_else_is_judged(string request)
    {
        _device.Lacking = FunctionCode.WriteSingleRegister;
        Process(Hex.Frame(1, 1, Hex.Bytes(request)));
        Assert.Equal("86 01", Hex.Text(_output.AsSpan(7, 2)));
        Assert.Equal(0, _device.CallCount);
        Process(Hex.Frame(2, 1, Hex.Bytes("10 00 01 00 01 02 00 03")));
        Assert.Equal(3, _device.HoldingRegisters[1]);
    }

    [Fact]
    public void A_device_that_fails_while_it_acts_is_exception_04()
    {
        _device.Throws = true;
        Process(Hex.Frame(1, 1, Hex.Bytes("03 00 00 00 01")));
        Assert.Equal("83 04", Hex.Text(_output.AsSpan(7, 2)));
    }

    [Theory]
    [InlineData(ModbusExceptionCode.ServerDeviceBusy)]
    [InlineData(ModbusExceptionCode.IllegalDataValue)]
    public void The_verdict_of_the_device_is_passed_on(ModbusExceptionCode code)
    {
        _device.Refusal = code;
        Process(Hex.Frame(1, 1, Hex.Bytes("10 00 00 00 01 02 00 05")));
        Assert.Equal($"90 {(byte)code:X2}", Hex.Text(_output.AsSpan(7, 2)));
        Assert.Equal(0, _device.HoldingRegisters[0]);
    }

    [Fact]
    public void A_request_that_is_refused_never_reaches_the_device()
    {
        Process(Hex.Frame(1, 1, Hex.Bytes("10 00 00 00 02 03 00 05 00")));
        Process(Hex.Frame(1, 2, Hex.Bytes("06 00 00 00 01")));
        Assert.Equal(0, _device.CallCount);
    }

    [Fact]
    public void A_read_and_write_whose_read_is_refused_writes_nothing()
    {
        Process(Hex.Frame(1, 1, Hex.Bytes("17 00 64 00 01 00 00 00 01 02 00 05")));
        Assert.Equal("97 02", Hex.Text(_output.AsSpan(7, 2)));
        Assert.Equal(0, _device.HoldingRegisters[0]);
    }

    [Fact]
    public void An_unknown_unit_is_exception_0A_or_silence()
    {
        byte[] request = Hex.Frame(3, 7, Hex.Bytes("03 00 00 00 01"));
        Assert.Equal(ServerStatus.Refused, Process(request));
        Assert.Equal(Hex.Text(Hex.Frame(3, 7, 0x83, 0x0A)), Hex.Text(_output.AsSpan(0, 9)));

        ServerEngine silent = new(new Dictionary<byte, IModbusDevice> { [1] = _device }, UnknownUnitReaction.StaySilent);
        Assert.Equal(ServerStatus.Discarded, silent.Process(request, _output, out int consumed, out int produced));
        Assert.Equal((request.Length, 0), (consumed, produced));
    }

    [Fact]
    public void A_silent_server_neither_acts_nor_answers()
    {
        ServerEngine engine = new(new Dictionary<byte, IModbusDevice> { [1] = _device }) { IsSilent = true };
        byte[] request = Hex.Frame(3, 1, Hex.Bytes("06 00 00 00 01"));
        Assert.Equal(ServerStatus.Discarded, engine.Process(request, _output, out int consumed, out int produced));
        Assert.Equal((request.Length, 0, 0), (consumed, produced, _device.CallCount));
    }

    [Fact]
    public void The_longest_answers_and_requests_fit()
    {
        MemoryDevice device = new();
        ServerEngine engine = new(new Dictionary<byte, IModbusDevice> { [1] = device });
        engine.Process(Hex.Frame(1, 1, Hex.Bytes("01 00 00 07 D0")), _output, out _, out int bits);
        engine.Process(Hex.Frame(1, 1, Hex.Bytes("03 00 00 00 7D")), _output, out _, out int words);
        Assert.Equal((7 + 2 + 250, 7 + 2 + 250), (bits, words));

        byte[] coils = [0x0F, 0, 0, 0x07, 0xB0, 246, .. Enumerable.Repeat((byte)0xFF, 246)];
        Assert.Equal(ServerStatus.Answered, engine.Process(Hex.Frame(1, 1, coils), _output, out _, out _));
        Assert.Equal(1968, device.Coils.Count(c => c));
        byte[] registers = [0x10, 0, 0, 0, 0x7B, 246, .. Enumerable.Repeat((byte)0xFF, 246)];
        Assert.Equal(ServerStatus.Answered, engine.Process(Hex.Frame(1, 1, registers), _output, out _, out _));
        Assert.Equal(123, device.HoldingRegisters.Count(r => r == 0xFFFF));
    }

    [Fact]
    public void The_server_engine_allocates_nothing()
    {
        ServerEngine engine = new(new Dictionary<byte, IModbusDevice> { [1] = _device });
        byte[] request = Hex.Frame(1, 1, Hex.Bytes("03 00 00 00 09"));
        engine.Process(request, _output, out _, out _);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 10_000; i++)
        {
            engine.Process(request, _output, out _, out _);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private ServerStatus Process(byte[] frame) =>
        new ServerEngine(new Dictionary<byte, IModbusDevice> { [1] = _device }).Process(frame, _output, out _, out _);

    private int CheckLengths(int function, int address, int second)
    {
        byte[] head = [(byte)function, (byte)(address >> 8), (byte)(address & 0xFF), (byte)(second >> 8), (byte)(second & 0xFF)];
        int byteCount = Math.Min(247, function == 15 ? (second + 7) / 8 : 2 * second);
        byte[][] requests =
        [
            head,
            head[..4],
            [.. head, (byte)byteCount, .. new byte[byteCount]],
            [.. head, (byte)(byteCount ^ 1), .. new byte[byteCount]],
            [.. head, (byte)byteCount, .. new byte[Math.Max(0, byteCount - 1)]],
        ];
        ServerEngine engine = new(new Dictionary<byte, IModbusDevice> { [1] = _device });
        foreach (byte[] request in requests)
        {
            engine.Process(Hex.Frame(1, 1, request), _output, out _, out int produced);
            int exception = _output[7] >= 0x80 ? _output[8] : 0;
            Assert.True(
                exception == NaiveVerdict.Of(request, Size) && produced >= 9,
                $"{Hex.Text(request)}: answered {exception}, the diagrams say {NaiveVerdict.Of(request, Size)}");
        }

        return requests.Length;
    }
}
