using System.Globalization;
using System.Net;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>
/// Many devices in one process, each with a port of its own: prints the ports in one line. The line "kill N" on its input
/// makes the last N dead: every other one takes connections and says nothing, the rest refuses them. Ends with its input.
/// </summary>
internal static class DeviceFarm
{
    public static int Run(int count)
    {
        TcpModbusServer[] servers = [.. Enumerable.Range(0, count).Select(static _ => Start())];
        Console.WriteLine(string.Join(' ', servers.Select(s => s.Port.ToString(CultureInfo.InvariantCulture))));
        while (Console.ReadLine() is { } line)
        {
            int dead = int.Parse(line.Split(' ')[1], CultureInfo.InvariantCulture);
            foreach ((int index, TcpModbusServer server) in servers.TakeLast(dead).Index())
            {
                if (index % 2 == 0)
                {
                    server.Silent = true;
                }
                else
                {
                    server.Stop();
                }
            }

            Console.WriteLine("dead");
        }

        return 0;
    }

    private static TcpModbusServer Start()
    {
        TcpModbusServer server = new(new IPEndPoint(IPAddress.Loopback, 0), new Dictionary<byte, IModbusDevice> { [1] = new BenchRegisters() });
        server.Start();
        return server;
    }
}
