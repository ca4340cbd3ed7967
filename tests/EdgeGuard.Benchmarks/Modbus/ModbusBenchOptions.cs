using System.Globalization;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>Options of the Modbus benchmark.</summary>
/// <param name="Native">The peer on libmodbus that tests/tools/install-peers builds.</param>
/// <param name="Rounds">Turns of each measurement; the middle one counts.</param>
/// <param name="Seconds">Length of one turn, s.</param>
internal sealed record ModbusBenchOptions(string Native, int Rounds, int Seconds)
{
    public static ModbusBenchOptions Parse(string[] arguments)
    {
        ModbusBenchOptions options = new("artifacts/interop-modbus/libmodbus-peer", 5, 2);
        for (int i = 0; i + 1 < arguments.Length; i += 2)
        {
            options = arguments[i] switch
            {
                "--native" => options with { Native = arguments[i + 1] },
                "--rounds" => options with { Rounds = int.Parse(arguments[i + 1], CultureInfo.InvariantCulture) },
                "--seconds" => options with { Seconds = int.Parse(arguments[i + 1], CultureInfo.InvariantCulture) },
                _ => throw new ArgumentException($"unknown option {arguments[i]}"),
            };
        }

        return options;
    }
}
