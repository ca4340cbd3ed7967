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
    private View _judged;
    private View _real;
    private ulong _forced;

    /// <summary>The role.</summary>
    public SignalRole Role => table.Role;

    /// <summary>What the sensors show with forced values in place of the read ones.</summary>
    public ref readonly View Judged => ref _judged;

    /// <summary>What the sensors show without forced values; the same while nothing is forced.</summary>
    public ref readonly View Real => ref (_forced == 0 ? ref _judged : ref _real);

    /// <summary>Takes the sensors of this scan and writes the voted value.</summary>
    public void Vote(UnitMemory unit, ScanImage decoded, ScanImage judged)
    {
        ulong forced = unit.ForcedInputs(FunctionId.Sens);
        if (_forced == 0)
        {
            _real = _judged;
        }
        else if ((_forced & ~forced) != 0)
        {
            _judged = _real;
        }

        _forced = forced;
        Vote(unit, decoded, judged, ref _judged);
    }

    /// <summary>The same for the values as they were read, after the forced ones.</summary>
    public void VoteReal(UnitMemory unit, ScanImage decoded, ScanImage real) => Vote(unit, decoded, real, ref _real);

    private void Vote(UnitMemory unit, ScanImage decoded, ScanImage judged, ref View view)
    {
        ref SignalValue first = ref decoded[table.Role];
        ref SignalValue second = ref decoded[SignalRoles.Sensor(table.Role, 2)];
        bool hasThird = table.Scheme == VotingScheme.TwoOutOfThree;
        SignalValue third = hasThird ? decoded[SignalRoles.Sensor(table.Role, 3)] : default;
        judged[table.Role] = Choose(table.Scheme, table.Role != SignalRole.GasFlow, first, second, third);

        bool missing = !first.IsGood || !second.IsGood || (hasThird && !third.IsGood);
        view.IsDegraded = view.Missing.Passed(missing, unit.Scan, unit.Scans(unit.Table.SensDelayMs));
        view.IsDegradedTooLong = view.Degraded.Passed(view.IsDegraded, unit.Scan, unit.Scans(table.DegradedMs));
        bool differ = Spread(first, second, third) > table.DeviationMax;
        view.Deviates = view.Deviation.Passed(differ, unit.Scan, unit.Scans(table.DeviationDelayMs));
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

    /// <summary>What came of the sensors of a role so far.</summary>
    internal struct View
    {
        public ScanDelay Missing;
        public ScanDelay Degraded;
        public ScanDelay Deviation;

        /// <summary>One sensor is lost, the role is not.</summary>
        public bool IsDegraded;

        /// <summary>A sensor has been lost for longer than allowed.</summary>
        public bool IsDegradedTooLong;

        /// <summary>Good sensors differ for longer than allowed.</summary>
        public bool Deviates;

        /// <summary>Scan since when a sensor is lost or sensors differ; −1 when neither.</summary>
        public readonly long Since => Missing.Runs ? Missing.Since : Deviation.Since;
    }
}
