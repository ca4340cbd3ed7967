namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Counts demands and trips by function, remembers the latest trip until a person has said what it was, and tells when
/// resets come too often: an interlock that is reset time and again is being used as a thermostat.
/// </summary>
internal sealed class TripLedger
{
    private const int HourMs = 3_600_000;

    private readonly FunctionCounts[] _counts = new FunctionCounts[FunctionIds.Count];
    private readonly long[] _resets;
    private int _resetCount;
    private bool _oftenTold;

    public TripLedger(UnitTable table, KeptFigures kept)
    {
        _resets = new long[Math.Max(1, table.RepeatedResetsPerHour) + 1];
        for (int i = 0; i < Math.Min(kept.Counts.Count, _counts.Length); i++)
        {
            _counts[i] = Bounded(kept.Counts[i]);
        }

        LastTrip = (int)kept.LastTrip < FunctionIds.Count ? kept.LastTrip : FunctionId.None;
        LastClass = LastTrip == FunctionId.None ? TripClass.Unknown : kept.LastTripClass;
    }

    /// <summary>Function of the latest trip, of an earlier run too; None when none is known.</summary>
    public FunctionId LastTrip { get; private set; }

    /// <summary>What the latest trip was found to be.</summary>
    public TripClass LastClass { get; private set; }

    /// <summary>Counters, indexed by function.</summary>
    public ReadOnlySpan<FunctionCounts> Counts => _counts;

    public void CountDemand(FunctionId function) => _counts[(int)function].Demands++;

    public void CountBypassedDemand(FunctionId function) => _counts[(int)function].BypassedDemands++;

    public void CountForcedDemand(FunctionId function) => _counts[(int)function].ForcedDemands++;

    public void CountTrip(FunctionId function)
    {
        _counts[(int)function].Trips++;
        LastTrip = function;
        LastClass = TripClass.Unknown;
    }

    /// <summary>Takes a person's finding on the latest trip; a later finding replaces an earlier one.</summary>
    public void Classify(TripClass found, int tripCount, EventSink sink)
    {
        ref FunctionCounts counts = ref _counts[(int)LastTrip];
        counts.SpuriousTrips += (found == TripClass.Spurious ? 1 : 0) - (LastClass == TripClass.Spurious ? 1 : 0);
        LastClass = found;
        sink.Raise(EventId.TripClassified, LastTrip, tripCount, counts.SpuriousTrips, (long)found);
    }

    public void CountReset(long scan)
    {
        _resets[_resetCount % _resets.Length] = scan;
        _resetCount++;
    }

    /// <summary>Raises the coming and going of "reset too often": more resets within an hour than the site allows.</summary>
    public void TellRepeatedResets(UnitMemory unit, EventSink sink)
    {
        // The oldest of the last limit + 1 resets stands where the next one will go.
        long oldest = _resets[_resetCount % _resets.Length];
        bool often = _resetCount >= _resets.Length && unit.Scan - oldest < unit.Scans(HourMs);
        if (often != _oftenTold)
        {
            _oftenTold = often;
            sink.Raise(often ? EventId.RepeatedResets : EventId.RepeatedResetsGone, LastTrip, _resets.Length, _resets.Length - 1);
        }
    }

    /// <summary>True while resets came too often.</summary>
    public bool ResetsTooOften => _oftenTold;

    private static FunctionCounts Bounded(FunctionCounts kept) => new()
    {
        Demands = Bounded(kept.Demands),
        Trips = Bounded(kept.Trips),
        BypassedDemands = Bounded(kept.BypassedDemands),
        ForcedDemands = Bounded(kept.ForcedDemands),
        SpuriousTrips = Bounded(kept.SpuriousTrips),
    };

    private static int Bounded(int count) => Math.Clamp(count, 0, KeptFigures.CountMax);
}
