namespace EdgeGuard.Benchmarks;

/// <summary>
/// Load generator for OPC UA servers, and a host of our own server under the same conditions. <c>run</c> drives both
/// servers in turn and prints a table and one result line; <c>host</c> is our server, started by <c>run</c>.
/// </summary>
internal static class Program
{
    private const int UsageExit = 64;

    private static int Main(string[] args)
    {
        switch (args)
        {
            case ["host", var items]:
                return BenchHost.Run(int.Parse(items, System.Globalization.CultureInfo.InvariantCulture));
            case ["run", .. var options]:
                return BenchRun.Run(RunOptions.Parse(options));
            case ["guard"]:
                return Guard.GuardBench.Run();
            case ["modbus", .. var options]:
                return Modbus.ModbusBench.Run(Modbus.ModbusBenchOptions.Parse(options));
            case ["modbus-devices", var count]:
                return Modbus.DeviceFarm.Run(Number(count));
            case ["modbus-hundred", var seconds]:
                return Modbus.HundredDevices.Run(Number(seconds));
            case ["modbus-host"]:
                return Modbus.ModbusHost.Run();
            case ["modbus-client", var port, var registers, var seconds, var server]:
                return Modbus.ModbusClientLoad.Run(Number(port), Number(registers), Number(seconds), Number(server));
            default:
                Console.Error.WriteLine("usage: EdgeGuard.Benchmarks run [--rounds N] [--seconds S] [--node FOLDER] [--only engine|reads|notifications|idle] | host ITEMS | modbus --native FILE [--rounds N] [--seconds S] | modbus-hundred SECONDS | guard");
                return UsageExit;
        }
    }

    private static int Number(string text) => int.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
