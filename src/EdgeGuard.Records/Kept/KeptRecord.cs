using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Records.Kept;

/// <summary>
/// What is kept of one unit from run to run: counters, use, what was learnt. Filled in place by the scan thread, written
/// to a file by <see cref="KeptCodec"/>, read back at the next start. Allocated once.
/// </summary>
public sealed class KeptRecord
{
    /// <summary>Lower edges of the temperature bands whose hours are kept, °C; part of the format.</summary>
    public static readonly IReadOnlyList<int> BandsC = [300, 500, 700, 900, 1000, 1100, 1200];

    /// <summary>Name of the site.</summary>
    public string Site { get; set; } = string.Empty;

    /// <summary>Name of the unit.</summary>
    public string Unit { get; set; } = string.Empty;

    /// <summary>UTC since which is counted, ms since 1970-01-01.</summary>
    public long SinceUtcMs { get; set; }

    /// <summary>UTC of the saving, ms since 1970-01-01.</summary>
    public long SavedUtcMs { get; set; }

    /// <summary>Id of the run that saved it.</summary>
    public string RunId { get; set; } = string.Empty;

    /// <summary>Power was permitted when it was saved: a run that ends so leaves a hot element without power.</summary>
    public bool Heating { get; set; }

    /// <summary>Trips.</summary>
    public int TripCount { get; set; }

    /// <summary>Function of the latest trip; None when there was none.</summary>
    public FunctionId LastTrip { get; set; }

    /// <summary>What a person found it to have been.</summary>
    public TripClass LastTripClass { get; set; }

    /// <summary>Counters by function.</summary>
    public FunctionCounts[] Counts { get; } = new FunctionCounts[FunctionIds.Count];

    /// <summary>Energy, hours, contactor.</summary>
    public DutyFigures Duty { get; set; }

    /// <summary>Thermal cycles of the element.</summary>
    public StressFigures Stress { get; set; } = new() { PeakC = double.NaN, ValleyC = double.NaN, Cause = StressCause.Led };

    /// <summary>Time in each band of <see cref="BandsC"/>, ms.</summary>
    public long[] BandMs { get; } = new long[BandsC.Count];

    /// <summary>What the learnt loss rests on (gas, sensors, settings of the balance): 64 hexadecimal digits, "-" for nothing.</summary>
    public string LossBasis { get; set; } = "-";

    /// <summary>The loss of the energy balance as far as it was learnt.</summary>
    public LearntLoss Loss { get; set; }

    /// <summary>What the learnt noise rests on (sensors, scan): 64 hexadecimal digits, "-" for nothing.</summary>
    public string FloorsBasis { get; set; } = "-";

    /// <summary>Noise of the sensors as learnt.</summary>
    public LearntFloors Floors { get; set; }

    /// <summary>What the trends of LEAK rest on (signals, alarm limits): 64 hexadecimal digits, "-" for nothing.</summary>
    public string LeakBasis { get; set; } = "-";

    /// <summary>Trend of the earth leakage against its alarm limit.</summary>
    public LeakFigures Leakage { get; set; } = NoLeak;

    /// <summary>Trend of the insulation.</summary>
    public LeakFigures Insulation { get; set; } = NoLeak;

    /// <summary>What the trend of the legs rests on (currents, power, element, alloy): 64 hexadecimal digits, "-" for nothing.</summary>
    public string LegsBasis { get; set; } = "-";

    /// <summary>The three legs over the days.</summary>
    public LegFigures[] Legs { get; } = [.. Enumerable.Repeat(NoLeg, LegWatch.Legs)];

    /// <summary>Day whose blocks are summed up, days since 1970-01-01; −1 before the first.</summary>
    public long LegDay { get; set; } = -1;

    /// <summary>Blocks of that day.</summary>
    public int LegDayBlocks { get; set; }

    /// <summary>Thermal cycles at the latest reading of the legs.</summary>
    public int LegCycles { get; set; }

    /// <summary>A trend of LEAK without points.</summary>
    public static LeakFigures NoLeak => new() { Trend = new TrendState { LatestPercent = double.NaN } };

    /// <summary>A leg of which nothing is known.</summary>
    public static LegFigures NoLeg => new() { Trend = new TrendState { LatestPercent = double.NaN } };

    /// <summary>The part the core starts from.</summary>
    public KeptFigures ToFigures() => new()
    {
        Counts = [.. Counts],
        TripCount = TripCount,
        LastTrip = LastTrip,
        LastTripClass = LastTripClass,
        Loss = Loss,
        Floors = Floors,
        Leakage = Leakage,
        Insulation = Insulation,
    };

    /// <summary>Takes what the core decided last.</summary>
    /// <param name="decision">Decision of the unit.</param>
    public void Take(UnitDecision decision)
    {
        ArgumentNullException.ThrowIfNull(decision);
        Heating = decision.Permit;
        TripCount = decision.TripCount;
        LastTrip = decision.LastTrip;
        LastTripClass = decision.LastTripClass;
        Loss = decision.Loss;
        Floors = decision.Floors;
        (Leakage, Insulation) = (decision.Leakage, decision.Insulation);
        decision.Counts.CopyTo(Counts, 0);
    }
}
