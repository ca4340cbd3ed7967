using System.Globalization;
using System.Net;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>Our server: prints its port; when its input is closed, prints the bytes its process allocated for a request, the middle of its windows under load (a new connection allocates).</summary>
internal static class ModbusHost
{
    private const int WindowMs = 100;
    private const int EnoughAnswers = 200;

    public static int Run()
    {
        using TcpModbusServer server = new(new IPEndPoint(IPAddress.Loopback, 0), new Dictionary<byte, IModbusDevice> { [1] = new BenchRegisters() });
        server.Start();
        Console.WriteLine(server.Port.ToString(CultureInfo.InvariantCulture));
        using ManualResetEventSlim ended = new();
        new Thread(() =>
        {
            Console.In.ReadToEnd();
            ended.Set();
        }) { IsBackground = true }.Start();
        List<double> windows = new(100_000);
        long answered = server.Counters.Answered;
        long allocated = GC.GetTotalAllocatedBytes(precise: true);
        while (!ended.Wait(WindowMs))
        {
            long answers = server.Counters.Answered - answered;
            long bytes = GC.GetTotalAllocatedBytes(precise: true) - allocated;
            if (answers >= EnoughAnswers)
            {
                windows.Add((double)bytes / answers);
            }

            answered += answers;
            allocated += bytes;
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Median.Of(windows):F3}"));
        return 0;
    }
}
