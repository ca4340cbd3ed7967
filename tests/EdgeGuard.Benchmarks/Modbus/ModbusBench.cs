using System.Globalization;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>
/// Round trips over loopback, everything on one core: our client and a client in C against the libmodbus server, both
/// against our server, and bare sockets that carry the same bytes. The measurements take turns, so that a disturbance
/// of the machine hits all alike, and the middle of the turns counts. Beside the rate stands the processor time of one
/// round trip on each side, which says the same on a machine that others use too.
/// </summary>
internal static class ModbusBench
{
    private const double BytesMax = 0.01;
    private static readonly int[] Sizes = [10, 125];
    private static readonly string[] Names = ["bare sockets", "C client, libmodbus server", "our client, libmodbus server", "C client, our server", "our client, our server"];

    public static int Run(ModbusBenchOptions options)
    {
        if (!File.Exists(options.Native))
        {
            Console.Error.WriteLine($"{options.Native} is missing: run tests/tools/install-peers");
            return 66;
        }

        List<ModbusTurn>[,] turns = new List<ModbusTurn>[Names.Length, Sizes.Length];
        double serverBytes = 0;
        for (int round = 0; round < options.Rounds; round++)
        {
            for (int size = 0; size < Sizes.Length; size++)
            {
                serverBytes = Math.Max(serverBytes, Round(options, turns, size));
            }
        }

        return Tell(turns, serverBytes);
    }

    private static double Round(ModbusBenchOptions options, List<ModbusTurn>[,] turns, int size)
    {
        string own = Environment.ProcessPath!;
        string registers = Sizes[size].ToString(CultureInfo.InvariantCulture);
        string seconds = options.Seconds.ToString(CultureInfo.InvariantCulture);
        using (PinnedProcess pong = new(options.Native, "pong", registers))
        {
            Add(0, ModbusTurn.Of(pong, options.Native, "ping", pong.Line(), registers, seconds));
        }

        using (PinnedProcess native = new(options.Native, "server-tcp"))
        {
            string port = native.Line();
            Add(1, ModbusTurn.Of(native, options.Native, "bench", port, registers, seconds));
            Add(2, ModbusTurn.Of(native, own, "modbus-client", port, registers, seconds));
        }

        using PinnedProcess host = new(own, "modbus-host");
        string ownPort = host.Line();
        ModbusTurn.Of(host, options.Native, "bench", ownPort, registers, "1"); // the runtime compiles twice before it is at its best
        Add(3, ModbusTurn.Of(host, options.Native, "bench", ownPort, registers, seconds));
        Add(4, ModbusTurn.Of(host, own, "modbus-client", ownPort, registers, seconds));
        return double.Parse(host.End(), CultureInfo.InvariantCulture);

        void Add(int measurement, ModbusTurn turn) => (turns[measurement, size] ??= []).Add(turn);
    }

    private static int Tell(List<ModbusTurn>[,] turns, double serverBytes)
    {
        Console.WriteLine("one core; processor time of one round trip        10 registers                      125 registers");
        Console.WriteLine("                                rate/s   client µs   server µs      rate/s   client µs   server µs");
        for (int m = 0; m < Names.Length; m++)
        {
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{Names[m],-28} {Of(m, 0, t => t.Rate),9:F0} {Of(m, 0, t => t.ClientUs),11:F2} {Of(m, 0, t => t.ServerUs),11:F2} {Of(m, 1, t => t.Rate),11:F0} {Of(m, 1, t => t.ClientUs),11:F2} {Of(m, 1, t => t.ServerUs),11:F2}"));
        }

        double clientBytes = Math.Max(turns[2, 0].Max(t => t.ClientBytes), turns[2, 1].Max(t => t.ClientBytes));
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"modbus-benchmark: our client to the C client {Ratio(2, 1, 0):F2} / {Ratio(2, 1, 1):F2}, our server to libmodbus's under the C client {Ratio(3, 1, 0):F2} / {Ratio(3, 1, 1):F2}, our client to bare sockets {Ratio(2, 0, 0):F2} / {Ratio(2, 0, 1):F2}, bytes allocated a request: client {clientBytes:F3}, server {serverBytes:F3}"));
        return clientBytes < BytesMax && serverBytes < BytesMax ? 0 : 1;

        double Of(int measurement, int size, Func<ModbusTurn, double> value) => Median.Of(turns[measurement, size].Select(value));

        double Ratio(int one, int other, int size) => Of(one, size, t => t.Rate) / Of(other, size, t => t.Rate);
    }
}
