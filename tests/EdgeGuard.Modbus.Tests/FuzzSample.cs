using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Framing;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Modbus.Tests;

public sealed class FuzzSample
{
    private const int FrameCount = 200_000;

    [Theory]
    [InlineData(1)]
    [InlineData(20_260_101)]
    public void Two_hundred_thousand_frames_through_both_engines_cost_no_memory(int seed)
    {
        Random random = new(seed);
        byte[][] corpus = [.. Pdu.SpecificationExamples.All.SelectMany(e => new[] { Hex.Frame(1, 1, Hex.Bytes(e.Request)), Hex.Frame(1, 1, Hex.Bytes(e.Answer)) })];
        ServerEngine server = new(new Dictionary<byte, IModbusDevice> { [1] = new MemoryDevice(2000) });
        ClientEngine client = new();
        byte[] bytes = new byte[300];
        byte[] output = new byte[260];
        ushort[] words = new ushort[125];
        long[] seen = new long[16];
        Shoot(1000);

        long before = GC.GetAllocatedBytesForCurrentThread();
        Shoot(FrameCount);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);

        // The sample must reach every end of both engines, or it proves little.
        foreach (ServerStatus status in new[] { ServerStatus.NeedMore, ServerStatus.Answered, ServerStatus.Refused, ServerStatus.Broken })
        {
            Assert.True(seen[(int)status] > 100, status.ToString());
        }

        foreach (ClientStatus status in new[] { ClientStatus.NeedMore, ClientStatus.LateDropped, ClientStatus.Completed, ClientStatus.Broken })
        {
            Assert.True(seen[8 + (int)status] > 100, status.ToString());
        }

        void Shoot(int count)
        {
            for (int i = 0; i < count; i++)
            {
                int length = Mutate(random, corpus, bytes);
                seen[(int)server.Process(bytes.AsSpan(0, length), output, out int consumed, out int produced)]++;
                client.Reset();
                client.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 0, 3);
                client.Abandon(ModbusOutcome.Timeout);
                client.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 0, 3);
                SetTransaction(client, bytes, i % 3);
                seen[8 + (int)client.Take(bytes.AsSpan(0, length), words, out int taken)]++;
                if (consumed > length || taken > length || produced > MbapCodec.MaxFrameLength)
                {
                    throw new InvalidOperationException("An engine consumed or produced more than there is.");
                }
            }
        }
    }

    private static int Mutate(Random random, byte[][] corpus, byte[] bytes)
    {
        if (random.Next(4) == 0)
        {
            random.NextBytes(bytes);
            return random.Next(bytes.Length + 1);
        }

        byte[] origin = corpus[random.Next(corpus.Length)];
        origin.CopyTo(bytes, 0);
        int length = origin.Length;
        for (int flips = random.Next(4); flips > 0; flips--)
        {
            bytes[random.Next(length)] = (byte)random.Next(256);
        }

        return random.Next(8) == 0 ? random.Next(length + 1) : length;
    }

    /// <summary>Makes some frames current (1), some late (2) and leaves the rest.</summary>
    private static void SetTransaction(ClientEngine client, byte[] bytes, int kind)
    {
        int id = (client.Request[0] << 8) | client.Request[1];
        if (kind == 0)
        {
            return;
        }

        id = (id + 65536 - (kind - 1)) % 65536;
        bytes[0] = (byte)(id >> 8);
        bytes[1] = (byte)(id & 0xFF);
    }
}
