using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Service.Probing;

/// <summary>What a probe found.</summary>
public sealed class ProbeFindings
{
    private readonly List<double> _roundTripsMs = [];
    private readonly SortedDictionary<int, ModbusExceptionCode> _refused = [];

    internal ProbeFindings(RegisterSheet sheet) => Sheet = sheet;

    /// <summary>The registers.</summary>
    public RegisterSheet Sheet { get; }

    /// <summary>Requests that were sent.</summary>
    public int Requests { get; private set; }

    /// <summary>Requests without an answer that fits.</summary>
    public int Silent { get; private set; }

    /// <summary>How the latest request without a fitting answer ended; None when there was none.</summary>
    public ModbusOutcome LastFailure { get; private set; }

    /// <summary>Registers the device refused, with its exception code.</summary>
    public IReadOnlyDictionary<int, ModbusExceptionCode> Refused => _refused;

    /// <summary>Round trips of the answered requests, ms, in the order of sending.</summary>
    public IReadOnlyList<double> RoundTripsMs => _roundTripsMs;

    /// <summary>Median of the round trips, ms; NaN without any.</summary>
    public double MedianMs => Quantile(0.5);

    /// <summary>Mean difference of neighbouring round trips, ms; NaN with less than two.</summary>
    public double JitterMs => _roundTripsMs.Count < 2 ? double.NaN : _roundTripsMs.Zip(_roundTripsMs.Skip(1), (a, b) => Math.Abs(b - a)).Average();

    /// <summary>A quantile of the round trips, ms: the smallest one that is not below the share.</summary>
    public double Quantile(double share)
    {
        if (_roundTripsMs.Count == 0)
        {
            return double.NaN;
        }

        double[] sorted = [.. _roundTripsMs.Order()];
        return sorted[Math.Clamp((int)Math.Ceiling(share * sorted.Length) - 1, 0, sorted.Length - 1)];
    }

    internal void Note(ModbusResult result, double roundTripMs)
    {
        Requests++;
        if (result.Outcome is ModbusOutcome.Good or ModbusOutcome.DeviceException)
        {
            _roundTripsMs.Add(roundTripMs);
        }
        else
        {
            Silent++;
            LastFailure = result.Outcome;
        }
    }

    internal void Refuse(int address, ModbusExceptionCode code) => _refused[address] = code;
}
