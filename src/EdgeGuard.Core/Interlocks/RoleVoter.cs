using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Makes one value of the redundant sensors of a role. With the same limit for all of them, "k of n beyond the limit"
/// is the k-th worst value beyond it, so the vote is a choice of value and every function that reads the role votes
/// alike. A sensor that is not good votes to trip: of three, two good ones then give the worse of both; of two that must
/// agree, the good one decides alone. Two sensors of which one is enough are the exception: there the good one decides
/// and the loss is a controlled shutdown, since a removal at every broken wire would be a trip too many.
/// </summary>
internal sealed class RoleVoter(VotingTable table)
{
    private ScanDelay _missing;
    private ScanDelay _degraded;
    private ScanDelay _deviation;

    /// <summary>The role.</summary>
    public SignalRole Role => table.Role;

    /// <summary>One sensor is lost, the role is not.</summary>
    public bool IsDegraded { get; private set; }

    /// <summary>A sensor has been lost for longer than allowed.</summary>
    public bool IsDegradedTooLong { get; private set; }

    /// <summary>Good sensors differ for longer than allowed.</summary>
    public bool Deviates { get; private set; }

    /// <summary>Scan since when a sensor is lost or sensors differ; −1 when neither.</summary>
    public long Since => _missing.Runs ? _missing.Since : _deviation.Since;

    /// <summary>Greatest difference between good sensors in this scan.</summary>
    public double Deviation { get; private set; }

    /// <summary>Takes the sensors of this scan and writes the voted value.</summary>
    public void Vote(UnitMemory unit, ScanImage decoded, ScanImage judged)
    {
        ref SignalValue first = ref decoded[table.Role];
        ref SignalValue second = ref decoded[SignalRoles.Sensor(table.Role, 2)];
        bool hasThird = table.Scheme == VotingScheme.TwoOutOfThree;
        SignalValue third = hasThird ? decoded[SignalRoles.Sensor(table.Role, 3)] : default;
        judged[table.Role] = Choose(table.Scheme, table.Role != SignalRole.GasFlow, first, second, third);

        bool missing = !first.IsGood || !second.IsGood || (hasThird && !third.IsGood);
        IsDegraded = _missing.Passed(missing, unit.Scan, unit.Scans(unit.Table.SensDelayMs));
        IsDegradedTooLong = _degraded.Passed(IsDegraded, unit.Scan, unit.Scans(table.DegradedMs));
        Deviation = Spread(first, second, third);
        Deviates = _deviation.Passed(Deviation > table.DeviationMax, unit.Scan, unit.Scans(table.DeviationDelayMs));
    }

    /// <summary>The value the vote is equal to; not good when the sensors that are good cannot decide.</summary>
    public static SignalValue Choose(VotingScheme scheme, bool tripsHigh, in SignalValue a, in SignalValue b, in SignalValue c)
    {
        switch (scheme)
        {
            case VotingScheme.OneOutOfTwo:
                return !a.IsGood ? b : !b.IsGood ? a : Worse(a, b, tripsHigh);
            case VotingScheme.TwoOutOfTwo:
                return !a.IsGood ? b : !b.IsGood ? a : Worse(a, b, !tripsHigh);
            case VotingScheme.TwoOutOfThree:
                return Middle(a, b, c, tripsHigh);
            default:
                return a;
        }
    }

    /// <summary>Second worst of three; a lost one counts as worst, two lost decide to trip.</summary>
    private static SignalValue Middle(in SignalValue a, in SignalValue b, in SignalValue c, bool tripsHigh)
    {
        if (!a.IsGood)
        {
            return OfTwo(b, c, tripsHigh);
        }

        if (!b.IsGood)
        {
            return OfTwo(a, c, tripsHigh);
        }

        SignalValue worse = Worse(a, b, tripsHigh);
        SignalValue better = Worse(a, b, !tripsHigh);
        return c.IsGood ? Worse(better, Worse(worse, c, !tripsHigh), tripsHigh) : worse;
    }

    private static SignalValue OfTwo(in SignalValue a, in SignalValue b, bool tripsHigh) =>
        !a.IsGood ? a : !b.IsGood ? b : Worse(a, b, tripsHigh);

    private static SignalValue Worse(in SignalValue a, in SignalValue b, bool tripsHigh) => a.Value >= b.Value == tripsHigh ? a : b;

    private static double Spread(in SignalValue a, in SignalValue b, in SignalValue c)
    {
        double low = double.PositiveInfinity;
        double high = double.NegativeInfinity;
        Widen(a, ref low, ref high);
        Widen(b, ref low, ref high);
        Widen(c, ref low, ref high);
        return high > low ? high - low : 0;
    }

    private static void Widen(in SignalValue value, ref double low, ref double high)
    {
        if (value.IsGood)
        {
            low = Math.Min(low, value.Value);
            high = Math.Max(high, value.Value);
        }
    }
}
