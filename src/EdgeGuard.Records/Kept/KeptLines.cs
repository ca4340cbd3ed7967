using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Records.Kept;

/// <summary>The lines of a kept file in their order. Bounds are those of a life of the plant: beyond them a figure is damage.</summary>
internal static class KeptLines
{
    private const long MsMost = 200L * 366 * 86_400_000;
    private const double KelvinMost = 3_000;
    private const double KPerMinMost = 1e6;
    private const double CelsiusLeast = -300;

    /// <summary>All lines but those about the saving itself.</summary>
    public static void Visit(IKeptFields fields, KeptRecord r)
    {
        r.Site = fields.Text("site", r.Site);
        r.Unit = fields.Text("unit", r.Unit);
        r.SinceUtcMs = fields.Time("since", r.SinceUtcMs);
        r.Heating = fields.Whole("heating", r.Heating ? 1 : 0, 1) == 1;
        r.TripCount = Count(fields, "trips", r.TripCount);
        r.LastTrip = (FunctionId)fields.Whole("last-trip", (long)r.LastTrip, FunctionIds.Count - 1);
        r.LastTripClass = (TripClass)fields.Whole("last-trip-class", (long)r.LastTripClass, (long)TripClass.Spurious);
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            VisitCounts(fields, FunctionTexts.Of((FunctionId)i).Code, ref r.Counts[i]);
        }

        r.Duty = VisitDuty(fields, r.Duty);
        r.Stress = VisitStress(fields, r.Stress);
        for (int i = 0; i < r.BandMs.Length; i++)
        {
            r.BandMs[i] = fields.Whole(BandKeys[i], r.BandMs[i], MsMost);
        }

        r.LossBasis = fields.Text("loss-basis", r.LossBasis);
        r.Loss = new LearntLoss(
            (int)fields.Whole("loss-blocks", r.Loss.Blocks, 1_000_000),
            fields.Number("loss-kw-per-k", r.Loss.KwPerK, 0, 1_000),
            fields.Number("loss-squares", r.Loss.Squares, 0, 1e9));
        r.FloorsBasis = fields.Text("noise-basis", r.FloorsBasis);
        r.Floors = new LearntFloors(
            fields.Number("noise-element-k", r.Floors.ElementK, 0, KelvinMost),
            fields.Number("noise-outlet-k", r.Floors.OutletK, 0, KelvinMost),
            fields.Number("noise-flow-kg-per-h", r.Floors.FlowKgPerHour, 0, 1e6));
        KeptLegLines.Visit(fields, r);
        KeptLeakLines.Visit(fields, r);
    }

    /// <summary>The lines about the saving.</summary>
    public static void VisitSaving(IKeptFields fields, KeptRecord r)
    {
        r.RunId = fields.Text("run", r.RunId);
        r.SavedUtcMs = fields.Time("saved", r.SavedUtcMs);
    }

    private static readonly string[] BandKeys = [.. KeptRecord.BandsC.Select(static c => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"band-{c}-ms"))];

    private static readonly Dictionary<string, string[]> CountKeys = FunctionKeys();

    private static Dictionary<string, string[]> FunctionKeys()
    {
        var keys = new Dictionary<string, string[]>(StringComparer.Ordinal);
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            string code = FunctionTexts.Of((FunctionId)i).Code;
            keys[code] = [code + "-demands", code + "-trips", code + "-bypassed-demands", code + "-forced-demands", code + "-spurious-trips"];
        }

        return keys;
    }

    private static void VisitCounts(IKeptFields fields, string code, ref FunctionCounts counts)
    {
        string[] keys = CountKeys[code];
        counts.Demands = Count(fields, keys[0], counts.Demands);
        counts.Trips = Count(fields, keys[1], counts.Trips);
        counts.BypassedDemands = Count(fields, keys[2], counts.BypassedDemands);
        counts.ForcedDemands = Count(fields, keys[3], counts.ForcedDemands);
        counts.SpuriousTrips = Count(fields, keys[4], counts.SpuriousTrips);
    }

    private static DutyFigures VisitDuty(IKeptFields fields, DutyFigures duty)
    {
        duty.WattHours = fields.Whole("energy-wh", duty.WattHours, 1_000_000_000_000_000);
        duty.RemainderJoule = fields.Number("energy-rest-j", duty.RemainderJoule, 0, 3_600);
        duty.PoweredMs = fields.Whole("powered-ms", duty.PoweredMs, MsMost);
        duty.UnknownMs = fields.Whole("power-unknown-ms", duty.UnknownMs, MsMost);
        duty.ContactorClosings = Count(fields, "contactor-closings", duty.ContactorClosings);
        duty.OpeningsUnderPower = Count(fields, "openings-under-power", duty.OpeningsUnderPower);
        return duty;
    }

    private static StressFigures VisitStress(IKeptFields fields, StressFigures stress)
    {
        stress.LedCycles = Count(fields, "led-cycles", stress.LedCycles);
        stress.ForcedCycles = Count(fields, "forced-cycles", stress.ForcedCycles);
        stress.DeepestLedK = fields.Number("deepest-led-k", stress.DeepestLedK, 0, KelvinMost);
        stress.DeepestForcedK = fields.Number("deepest-forced-k", stress.DeepestForcedK, 0, KelvinMost);
        stress.FastestRiseKPerMin = fields.Number("fastest-rise-k-per-min", stress.FastestRiseKPerMin, 0, KPerMinMost);
        stress.FastestLedFallKPerMin = fields.Number("fastest-led-fall-k-per-min", stress.FastestLedFallKPerMin, 0, KPerMinMost);
        stress.FastestForcedFallKPerMin = fields.Number("fastest-forced-fall-k-per-min", stress.FastestForcedFallKPerMin, 0, KPerMinMost);
        stress.LedExcessMs = fields.Whole("led-excess-ms", stress.LedExcessMs, MsMost);
        stress.ForcedExcessMs = fields.Whole("forced-excess-ms", stress.ForcedExcessMs, MsMost);
        stress.UnknownMs = fields.Whole("element-unknown-ms", stress.UnknownMs, MsMost);
        stress.PeakC = fields.Number("peak-c", stress.PeakC, CelsiusLeast, KelvinMost, mayBeNone: true);
        stress.ValleyC = fields.Number("valley-c", stress.ValleyC, CelsiusLeast, KelvinMost, mayBeNone: true);
        stress.Falling = fields.Whole("falling", stress.Falling ? 1 : 0, 1) == 1;
        stress.Cause = (StressCause)fields.Whole("fall-led", (long)stress.Cause, 1);
        return stress;
    }

    private static int Count(IKeptFields fields, string key, int value) => (int)fields.Whole(key, value, KeptFigures.CountMax);
}
