using System.Globalization;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Tests.Misbehaving;
using EdgeGuard.Modbus.Tests.Rtu;

namespace EdgeGuard.Modbus.Tests;

/// <summary>
/// Random and mutated frames into the client and server engines of both framings: no exception, no byte too many, no
/// memory, and every end of each engine is reached. EDGEGUARD_FUZZ_FRAMES sets the count of frames for long runs.
/// </summary>
public sealed class FuzzSample
{
    private const int SampleCount = 100_000;
    private const int MaxBytes = 300;

    private static readonly int? LongCount =
        int.TryParse(Environment.GetEnvironmentVariable("EDGEGUARD_FUZZ_FRAMES"), CultureInfo.InvariantCulture, out int given) ? given : null;

    private readonly byte[] _bytes = new byte[MaxBytes];
    private readonly byte[] _output = new byte[260];
    private readonly ushort[] _words = new ushort[125];
    private readonly long[] _seen = new long[16];
    private readonly FunctionCase[] _functions = FunctionCase.All;

    [Theory]
    [InlineData(1)]
    [InlineData(20_260_101)]
    public void Frames_through_both_engines_of_Modbus_TCP_cost_no_memory(int seed)
    {
        Dictionary<byte, IModbusDevice> devices = new() { [1] = ServerFault.Device() };
        byte[][] corpus = [.. Pdus().Select(pdu => Hex.Frame(1, 1, pdu))];
        Run(seed, corpus, new ServerEngine(devices), new ClientEngine(), isRtu: false);
        AssertReached(ServerStatus.NeedMore, ServerStatus.Answered, ServerStatus.Refused, ServerStatus.Broken);
        AssertReached(ClientStatus.NeedMore, ClientStatus.LateDropped, ClientStatus.Completed, ClientStatus.Broken);
    }

    [Theory]
    [InlineData(2)]
    [InlineData(20_260_102)]
    public void Frames_through_both_engines_of_RTU_cost_no_memory(int seed)
    {
        Dictionary<byte, IModbusDevice> devices = new() { [1] = ServerFault.Device(), [2] = ServerFault.Device() };
        byte[][] corpus = [.. new byte[] { 1, 3, 0 }.SelectMany(unit => Pdus().Select(pdu => RtuFrame.Of(unit, pdu)))];
        Run(seed, corpus, new RtuServerEngine(devices), new RtuClientEngine(), isRtu: true);
        AssertReached(ServerStatus.NeedMore, ServerStatus.Answered, ServerStatus.Refused, ServerStatus.Discarded, ServerStatus.Broadcast, ServerStatus.Broken);
        AssertReached(ClientStatus.NeedMore, ClientStatus.LateDropped, ClientStatus.Completed, ClientStatus.Broken);
    }

    /// <summary>Printed examples and the frames of the fault tables: what the unit tests know is where mutation begins.</summary>
    private static IEnumerable<byte[]> Pdus() =>
        FunctionCase.All.Select(f => f.AnswerPdu)
            .Concat(Pdu.SpecificationExamples.All.SelectMany(e => new[] { Hex.Bytes(e.Request), Hex.Bytes(e.Answer) }))
            .Concat(FunctionCase.All.SelectMany(f => new[] { f.RequestPdu, f.AnswerPdu, Hex.Bytes(f.Altered) }))
            .Where(pdu => pdu.Length > 0);

    private void Run(int seed, byte[][] corpus, ModbusServerEngine server, ModbusClientEngine client, bool isRtu)
    {
        Random random = new(seed);
        Shoot(random, corpus, server, client, isRtu, 2_000);
        long before = GC.GetAllocatedBytesForCurrentThread();
        long memoryBefore = GC.GetTotalMemory(forceFullCollection: true);
        Shoot(random, corpus, server, client, isRtu, LongCount ?? SampleCount);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 1024);
        if (LongCount is not null)
        {
            // The long run is alone in its process; in the check other tests allocate at the same time.
            Assert.InRange(GC.GetTotalMemory(forceFullCollection: true) - memoryBefore, -10_000_000, 100_000);
        }
    }

    private void Shoot(Random random, byte[][] corpus, ModbusServerEngine server, ModbusClientEngine client, bool isRtu, int count)
    {
        for (int i = 0; i < count; i++)
        {
            int length = Mutate(random, corpus, i, isRtu);
            ReadOnlySpan<byte> bytes = _bytes.AsSpan(0, length);
            ServerStatus status = server.Process(bytes, _output, out int consumed, out int produced);
            _seen[(int)status]++;
            if (status == ServerStatus.NeedMore && server.EndsBySilence)
            {
                _seen[(int)server.ProcessSilence(bytes, _output, out produced)]++;
            }

            int taken = Ask(client, i, bytes, isRtu);
            if (consumed > length || taken > length || produced > _output.Length)
            {
                throw new InvalidOperationException("An engine consumed or produced more than there is.");
            }
        }
    }

    /// <summary>The client has a request open, and now and then one that is owed an answer, when the bytes come.</summary>
    private int Ask(ModbusClientEngine client, int turn, ReadOnlySpan<byte> bytes, bool isRtu)
    {
        Begin(client, turn);
        if (turn % 3 == 0)
        {
            client.Abandon(ModbusOutcome.Timeout);
            Begin(client, turn / 3);
        }

        if (!isRtu && turn % 4 != 0 && bytes.Length >= 2)
        {
            // Some answers to the open request, some to the one before.
            ReadOnlySpan<byte> request = client.Request;
            int id = (request[0] << 8) | request[1];
            id = (id + 65536 - (turn % 4 == 3 ? 1 : 0)) % 65536;
            (_bytes[0], _bytes[1]) = ((byte)(id >> 8), (byte)(id & 0xFF));
        }

        ClientStatus status = client.Take(bytes, _words, out int taken);
        _seen[8 + (int)status]++;
        if (status == ClientStatus.Broken && turn % 2 == 0)
        {
            client.Reset(); // as after a new connection; else the stream stays broken for a turn
        }
        if (client.IsPending)
        {
            client.Abandon(ModbusOutcome.Timeout);
        }

        return taken;
    }

    private void Begin(ModbusClientEngine client, int turn)
    {
        switch (_functions[turn % _functions.Length].Code)
        {
            case 0x01: client.BeginReadBits(1, ModbusTable.Coils, 16, 3); break;
            case 0x02: client.BeginReadBits(1, ModbusTable.DiscreteInputs, 16, 3); break;
            case 0x03: client.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 16, 2); break;
            case 0x04: client.BeginReadRegisters(1, ModbusTable.InputRegisters, 16, 2); break;
            case 0x05: client.BeginWriteCoil(1, 16, true); break;
            case 0x06: client.BeginWriteRegister(1, 16, 7); break;
            case 0x07: client.BeginReadExceptionStatus(1); break;
            case 0x08: client.BeginReturnQueryData(1, 0xA537); break;
            case 0x0F: client.BeginWriteCoils(1, 16, [true, false, true]); break;
            case 0x10: client.BeginWriteRegisters(1, 16, [1, 2]); break;
            case 0x16: client.BeginMaskWriteRegister(1, 16, 0xF2, 0x25); break;
            case 0x17: client.BeginReadWriteRegisters(1, 16, 2, 20, [1]); break;
            default: client.BeginReadDeviceIdentification(1, DeviceIdAccess.Basic, 0); break;
        }
    }

    private int Mutate(Random random, byte[][] corpus, int turn, bool isRtu)
    {
        if (random.Next(4) == 0)
        {
            random.NextBytes(_bytes);
            return random.Next(_bytes.Length + 1);
        }

        // The first frames of the corpus are the right answers to what the client asks in turn.
        byte[] origin = corpus[random.Next(3) == 0 ? turn % _functions.Length : random.Next(corpus.Length)];
        origin.CopyTo(_bytes, 0);
        int length = origin.Length;
        int flips = random.Next(4);
        for (int i = flips; i > 0; i--)
        {
            _bytes[random.Next(length)] = (byte)random.Next(256);
        }

        if (isRtu && flips > 0 && random.Next(2) == 0)
        {
            // A right CRC over wrong bytes, or nothing but the CRC check would be tested.
            ushort crc = Modbus.Framing.Crc16.Compute(_bytes.AsSpan(0, length - 2));
            (_bytes[length - 2], _bytes[length - 1]) = ((byte)(crc & 0xFF), (byte)(crc >> 8));
        }

        return random.Next(8) == 0 ? random.Next(length + 1) : length;
    }

    private void AssertReached(params ServerStatus[] all) => Assert.All(all, s => Assert.True(_seen[(int)s] > 100, $"{s}: {_seen[(int)s]}"));

    private void AssertReached(params ClientStatus[] all) => Assert.All(all, s => Assert.True(_seen[8 + (int)s] > 100, $"{s}: {_seen[8 + (int)s]}"));
}
