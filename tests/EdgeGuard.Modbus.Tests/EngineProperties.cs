using CsCheck;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Framing;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Tests.Client;

namespace EdgeGuard.Modbus.Tests;

public sealed class EngineProperties
{
    private const int Iterations = 20_000;

    private static readonly byte[] Functions = [1, 2, 3, 4, 5, 6, 15, 16, 0x83, 0x2B];

    /// <summary>Bytes that often pass the header check, so that the deeper checks are reached too.</summary>
    private static readonly Gen<byte[]> FrameLike =
        from pdu in Gen.Byte.Array[1, 60]
        from function in Gen.Int[0, Functions.Length - 1].Select(i => Functions[i])
        from unit in Gen.Byte[0, 2]
        from tail in Gen.Byte.Array[0, 20]
        select (byte[])[.. Hex.Frame(1, unit, [function, .. pdu[1..]]), .. tail];

    private static readonly Gen<byte[]> AnyBytes = Gen.OneOf(Gen.Byte.Array[0, 300], FrameLike);

    [Fact]
    public void The_server_engine_takes_any_bytes()
    {
        AnyBytes.Sample(
            bytes =>
            {
                ServerEngine engine = new(new Dictionary<byte, IModbusDevice> { [1] = new MemoryDevice(50) });
                ServerStatus status = engine.Process(bytes, new byte[260], out int consumed, out int produced);
                Assert.InRange(consumed, 0, bytes.Length);
                Assert.InRange(produced, 0, MbapCodec.MaxFrameLength);
                Assert.NotEqual(ServerStatus.None, status);
                Assert.Equal(status is ServerStatus.NeedMore or ServerStatus.Broken, consumed == 0);
                Assert.Equal(status is ServerStatus.Answered or ServerStatus.Refused, produced >= 9);
            },
            iter: Iterations);
    }

    [Fact]
    public void The_client_engine_takes_any_bytes_and_reports_good_only_for_an_exact_answer()
    {
        AnyBytes.Sample(
            bytes =>
            {
                ClientEngine engine = new();
                ushort[] words = [7, 7];
                engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 0, 2);
                ClientStatus status = engine.Take(bytes, words, out int consumed);
                Assert.InRange(consumed, 0, bytes.Length);
                Assert.NotEqual(ClientStatus.None, status);
                bool isExact = bytes.AsSpan().StartsWith(Hex.Bytes("00 01 00 00 00 07 01 03 04"));
                Assert.Equal(isExact && bytes.Length >= 13, status == ClientStatus.Completed && engine.Result.IsGood);
            },
            iter: Iterations);
    }

    [Fact]
    public void Decoders_take_any_bytes()
    {
        AnyBytes.Sample(
            bytes =>
            {
                PduStatus status = RequestCodec.Decode(bytes, out PduRequest request);
                Assert.NotEqual(PduStatus.None, status);
                Assert.True(status == PduStatus.Ok || request.Quantity == 0);
                Assert.NotEqual(FrameStatus.None, MbapCodec.Decode(bytes, out MbapFrame frame));
                Assert.InRange(frame.Pdu.Length, 0, PduLimits.MaxPduLength);
                Assert.NotEqual(FrameStatus.None, RtuCodec.Read(bytes, out _, out _));
            },
            iter: Iterations);
    }

    [Fact]
    public void Writing_and_reading_back_in_memory_agrees_with_a_plain_array_however_the_bytes_are_cut()
    {
        Gen<(ushort Address, ushort[] Words, int Cut)> operation =
            from address in Gen.UShort[0, 220]
            from words in Gen.UShort.Array[1, 123]
            from cut in Gen.Int[1, 40]
            select (address, words, cut);
        operation.Array[1, 8].Sample(
            operations =>
            {
                MemoryDevice device = new(256);
                MemoryPair pair = new(device);
                ushort[] model = new ushort[256];
                foreach ((ushort address, ushort[] words, int cut) in operations)
                {
                    bool fits = address + words.Length <= model.Length;
                    pair.Client.BeginWriteRegisters(1, address, words);
                    ModbusResult result = pair.Exchange(default, cut);
                    Assert.Equal(fits ? ModbusOutcome.Good : ModbusOutcome.DeviceException, result.Outcome);
                    words.AsSpan(0, fits ? words.Length : 0).CopyTo(model.AsSpan(fits ? address : 0));
                }

                ushort[] back = new ushort[125];
                pair.Client.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 100, 125);
                Assert.True(pair.Exchange(back, 3).IsGood);
                Assert.Equal(model[100..225], back);
            },
            iter: 500);
    }

    [Fact]
    public void Coils_written_in_memory_read_back_the_same()
    {
        Gen.Bool.Array[1, 1968].Sample(
            bits =>
            {
                MemoryPair pair = new(new MemoryDevice(2000));
                ushort[] back = new ushort[bits.Length];
                pair.Client.BeginWriteCoils(1, 5, bits);
                Assert.True(pair.Exchange(default, 260).IsGood);
                pair.Client.BeginReadBits(1, ModbusTable.Coils, 5, bits.Length);
                Assert.True(pair.Exchange(back, 260).IsGood);
                Assert.Equal(bits, back.Select(word => word == 1));
            },
            iter: 500);
    }

    [Fact]
    public void Lost_repeated_and_late_answers_never_deliver_a_stale_value()
    {
        // Per transaction: 0 answered, 1 lost, 2 answered twice, 3 late (comes with the next). The register counts up,
        // so a stale answer would show as an old number.
        Gen.Int[0, 3].Array[1, 60].Sample(
            fates =>
            {
                MemoryDevice device = new(4);
                MemoryPair pair = new(device);
                ClientFeed feed = new(pair.Client);
                List<byte> delayed = [];
                ushort[] words = new ushort[1];
                for (int i = 0; i < fates.Length; i++)
                {
                    device.HoldingRegisters[0] = (ushort)(1000 + i);
                    pair.Client.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 0, 1);
                    byte[] answer = pair.Serve(pair.Client.Request);
                    byte[] wire = [.. delayed, .. fates[i] is 0 or 2 ? answer : [], .. fates[i] == 2 ? answer : []];
                    delayed = fates[i] == 3 ? [.. answer] : [];
                    ClientStatus status = feed.Give(wire, words);
                    Assert.Equal(fates[i] is 0 or 2, status == ClientStatus.Completed);
                    Assert.True(status != ClientStatus.Completed || words[0] == 1000 + i, "a stale value was delivered");
                    pair.Client.Abandon(ModbusOutcome.Timeout);
                }
            },
            iter: 2_000);
    }
}
