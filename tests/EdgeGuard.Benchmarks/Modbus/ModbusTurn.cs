using System.Globalization;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>What one turn of a load told.</summary>
/// <param name="Rate">Round trips a second.</param>
/// <param name="ClientUs">Processor time of the client for one, µs.</param>
/// <param name="ServerUs">Processor time of the server for one, µs.</param>
/// <param name="ClientBytes">Bytes the client allocated for one; 0 where it does not tell.</param>
internal readonly record struct ModbusTurn(double Rate, double ClientUs, double ServerUs, double ClientBytes)
{
    /// <summary>Runs a load to its end; the process id of the server is its last argument.</summary>
    public static ModbusTurn Of(PinnedProcess server, string file, params string[] arguments)
    {
        using PinnedProcess client = new(file, [.. arguments, server.Id.ToString(CultureInfo.InvariantCulture)]);
        double[] told = [.. client.Line().Split(' ').Select(t => double.Parse(t, CultureInfo.InvariantCulture))];
        return new ModbusTurn(told[0], told[1], told[2], told.Length > 3 ? told[3] : 0);
    }
}
