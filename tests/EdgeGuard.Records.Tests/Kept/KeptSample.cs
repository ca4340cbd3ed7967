using CsCheck;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Records.Kept;

namespace EdgeGuard.Records.Tests.Kept;

/// <summary>Records with figures of every kind.</summary>
internal static class KeptSample
{
    public static readonly Gen<KeptRecord> Gen =
        from numbers in CsCheck.Gen.Int[0, 1_000_000].Array[100]
        from figures in CsCheck.Gen.Double[0, 999].Array[10]
        from known in CsCheck.Gen.Bool
        select Make(numbers, figures, known);

    public static KeptRecord One() => Make([.. Enumerable.Range(1, 100)], [.. Enumerable.Range(0, 10).Select(static i => 0.1 + i)], known: true);

    private static KeptRecord Make(int[] n, double[] d, bool known)
    {
        var record = new KeptRecord
        {
            Site = "pilot hall",
            Unit = "N-1",
            SinceUtcMs = 1_764_000_000_000 + n[0],
            SavedUtcMs = 1_764_000_000_000 + n[1],
            RunId = "20251124T160000000Z",
            Heating = known,
            TripCount = n[2],
            LastTrip = (FunctionId)(n[3] % FunctionIds.Count),
            LastTripClass = (TripClass)(n[4] % 3),
            Duty = new DutyFigures { WattHours = 1_000_000L * n[5], RemainderJoule = d[0], PoweredMs = 1_000L * n[6], UnknownMs = n[7], ContactorClosings = n[8], OpeningsUnderPower = n[9] },
            Stress = new StressFigures
            {
                LedCycles = n[10],
                ForcedCycles = n[11],
                DeepestLedK = d[1],
                DeepestForcedK = d[2],
                FastestRiseKPerMin = d[3],
                FastestLedFallKPerMin = d[4],
                FastestForcedFallKPerMin = d[5],
                LedExcessMs = n[12],
                ForcedExcessMs = n[13],
                UnknownMs = n[14],
                PeakC = known ? d[6] : double.NaN,
                ValleyC = known ? d[7] - 200 : double.NaN,
                Falling = known,
                Cause = (StressCause)(n[15] % 2),
            },
            LossBasis = new string('a', 64),
            LeakBasis = new string('d', 64),
            Leakage = new() { DaySum = d[0], DayCount = n[24], DayMs = n[25], Day = n[26] % 1000, Trend = new() { Points = n[27] % 1000, LatestPercent = double.NaN, SumX = d[1], SumY = -d[2] } },
            Insulation = new() { DaySum = d[3], DayCount = n[28], DayMs = n[29], Day = n[30] % 1000, Trend = new() { Points = n[31] % 1000, LatestPercent = -d[5], SumX = d[6], SumY = -d[7] } },
            LegsBasis = new string('c', 64),
            LegDay = n[17] % 30_000,
            LegDayBlocks = n[18],
            LegCycles = n[19],
            FloorsBasis = new string('b', 64),
            Floors = new LearntFloors(d[1] / 100, d[2] / 100, d[3] / 100),
            Loss = new LearntLoss(n[16], d[8] / 1000, d[9] / 1e6),
        };
        for (int i = 0; i < 3; i++)
        {
            record.Legs[i] = new() { BaselineOhm = d[i], DaySumOhm = d[i + 1], Trend = new() { Points = n[i] % 1000, Cycles = n[i + 1], FirstDay = d[i + 2], LastDay = d[i + 3], LatestPercent = known ? d[i + 4] - 500 : double.NaN, SumX = d[i + 5], SumY = -d[i + 6], SumXX = d[9], SumXY = -d[0], SumYY = d[i] } };
        }

        for (int i = 1; i < FunctionIds.Count; i++)
        {
            record.Counts[i] = new FunctionCounts { Demands = n[20 + i], Trips = n[41 + i], BypassedDemands = n[62 + i], ForcedDemands = n[(33 + i) % 100], SpuriousTrips = n[(70 + i) % 100] };
        }

        for (int i = 0; i < record.BandMs.Length; i++)
        {
            record.BandMs[i] = 3_600_000L * n[90 + i];
        }

        return record;
    }
}
