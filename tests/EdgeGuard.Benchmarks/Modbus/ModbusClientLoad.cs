using System.Diagnostics;
using System.Globalization;
using System.Net;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>Our client, reading in turns: prints round trips a second, the processor time of one in µs (its own and the server's), and the bytes allocated for one.</summary>
internal static class ModbusClientLoad
{
    private const int TimeoutMs = 2000;
    private const int Batch = 64;

    public static int Run(int port, int registers, int seconds, int serverId)
    {
        using TcpModbusLink link = new(new IPEndPoint(IPAddress.Loopback, port));
        using Process server = Process.GetProcessById(serverId);
        link.Connect(TimeoutMs);
        ushort[] words = new ushort[registers];
        ReadFor(link, words, seconds * 0.5, out _, out _); // the runtime compiles twice before it is at its best
        TimeSpan other = server.TotalProcessorTime;
        TimeSpan own = Environment.CpuUsage.TotalTime;
        long count = ReadFor(link, words, seconds, out double elapsed, out long allocated);
        own = Environment.CpuUsage.TotalTime - own;
        server.Refresh();
        other = server.TotalProcessorTime - other;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{count / elapsed:F0} {own.TotalMicroseconds / count:F3} {other.TotalMicroseconds / count:F3} {(double)allocated / count:F3}"));
        return 0;
    }

    private static long ReadFor(TcpModbusLink link, ushort[] words, double seconds, out double elapsed, out long allocated)
    {
        long before = GC.GetAllocatedBytesForCurrentThread();
        long begun = Stopwatch.GetTimestamp();
        long count = 0;
        do
        {
            for (int i = 0; i < Batch; i++, count++)
            {
                if (!link.ReadRegisters(1, ModbusTable.HoldingRegisters, 0, words, TimeoutMs).IsGood)
                {
                    throw new InvalidOperationException("a read failed");
                }
            }

            elapsed = Stopwatch.GetElapsedTime(begun).TotalSeconds;
        }
        while (elapsed < seconds);

        allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        return count;
    }
}
