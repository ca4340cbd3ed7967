using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Records.Tests.Ring;

/// <summary>Scans and figures of links that a test can recompute.</summary>
internal static class RingSample
{
    public static IReadOnlyList<string> LinkNames { get; } = ["N-1 cabinet", "A-1 cabinet"];

    /// <summary>Every figure is another one, so that none can stand in the place of another.</summary>
    public static ScanRingLink Link(int number)
    {
        var link = new ScanRingLink();
        for (int i = 0; i < LinkFigureTexts.Count; i++)
        {
            link[(LinkFigure)i] = (1000 * number) + i;
        }

        link[LinkFigure.State] = number % 2 == 0 ? 1 : 0;
        return link;
    }

    /// <summary>Every figure is another one.</summary>
    public static ScanRingUse Use(int number) => new()
    {
        EnergyKwh = (100.5 * number) + 0,
        PoweredHours = (100.5 * number) + 1,
        ContactorClosings = (100.5 * number) + 2,
        OpeningsUnderPower = (100.5 * number) + 3,
        LedCycles = (100.5 * number) + 4,
        ForcedCycles = (100.5 * number) + 5,
        DeepestLedK = (100.5 * number) + 6,
        DeepestForcedK = (100.5 * number) + 7,
        FastestRiseKPerMin = (100.5 * number) + 8,
        FastestLedFallKPerMin = (100.5 * number) + 9,
        FastestForcedFallKPerMin = (100.5 * number) + 10,
        LedExcessSeconds = (100.5 * number) + 11,
        ForcedExcessSeconds = (100.5 * number) + 12,
        SinceUtcMs = (100.5 * number) + 13,
        LossWattsPerK = (100.5 * number) + 14,
        LossBlocks = (100.5 * number) + 15,
        NoiseElementK = (100.5 * number) + 16,
        NoiseOutletK = (100.5 * number) + 17,
        NoiseFlowKgPerHour = (100.5 * number) + 18,
        FirstLegPercent = (100.5 * number) + 19,
        SecondLegPercent = (100.5 * number) + 20,
        ThirdLegPercent = (100.5 * number) + 21,
        LegReadings = (100.5 * number) + 22,
        LegPercentPerYear = (100.5 * number) + 23,
        LegWarnUtcMs = (100.5 * number) + 24,
        LegWarnEarliestUtcMs = (100.5 * number) + 25,
        LegWarnLatestUtcMs = (100.5 * number) + 26,
    };

    /// <summary>Every field of an alarm is another one.</summary>
    public static AlarmPointStatus Alarm(int number) => new()
    {
        State = (AlarmState)(number % 9),
        Suppression = (AlarmSuppression)(number % 3),
        Condition = number % 2 == 0,
        IsChattering = number % 3 == 0,
        IsStale = number % 5 == 0,
        ShelfSecondsLeft = 1_000 + number,
        Annunciations = 50 + number,
    };

    /// <summary>Every figure of a record follows from the scan number, so a mixture of two scans cannot pass.</summary>
    public static (RawScan Scan, ScanOutput Output) Filled(int number)
    {
        RawScan scan = RecordsSite.NewScan();
        RecordsSite.Fill(scan, number);
        var output = new ScanOutput(2) { Scan = number, SitePowerKw = number + 0.5, EventCount = 2 };
        for (int u = 0; u < 2; u++)
        {
            UnitDecision unit = output.Units[u];
            unit.State = (UnitState)(number % 8);
            unit.FirstOut = (FunctionId)(number % FunctionIds.Count);
            unit.Permit = number % 2 == 1;
            unit.PendingDurable = number % 3 == 1;
            unit.RampHeld = number % 5 == 1;
            unit.PowerProvedOff = number % 7 == 1;
            unit.LedSetpointC = number + u;
            unit.ElementSlopeKPerMin = number + 0.25;
            unit.CoolSlopeKPerMin = number + 0.75;
            unit.TripCount = number;
            unit.LastTrip = (FunctionId)((number + 1) % FunctionIds.Count);
            unit.LastTripClass = (TripClass)(number % 3);
            unit.ResetsTooOften = number % 11 == 7;
            unit.FunctionsEvaluated = number + 1;
            for (int i = 0; i < SignalRoles.Count; i++)
            {
                unit.Image[(SignalRole)i] = new SignalValue { Value = (number * 100) + i, Status = (uint)number, AgeMs = number + i, Known = (number + i) % 2 == 0 };
            }

            for (int i = 0; i < FunctionIds.Count; i++)
            {
                unit.Counts[i] = new FunctionCounts { Demands = (number * 10) + i, Trips = (number * 20) + i, BypassedDemands = (number * 30) + i, SpuriousTrips = (number * 40) + i, ForcedDemands = (number * 50) + i };
                unit.Functions[i] = new FunctionStatus { State = (FunctionState)((number + i) % 6), Value = number + i, Limit = number - i, SinceScan = number, ForcedDemand = (number + i) % 7 == 1 };
            }

            for (int i = 0; i < FunctionIds.Count; i++)
            {
                unit.Alarms[i] = Alarm(number + (30 * u) + i);
            }

            for (int i = 0; i < CommandRoles.Count; i++)
            {
                unit.Commands[i] = new CommandDecision { Value = number + i, Write = (number + i) % 2 == 0, DeEnergising = (number + i) % 3 == 0 };
            }

            for (int i = 0; i < unit.Forced.Length; i++)
            {
                unit.Forced[i] = (number + i) % 3 == 0 ? default : new ForcedSignal { Active = true, Role = (SignalRole)(number + i), Real = new SignalValue { Value = number - i, Status = StatusCode.BadSensorFailure, AgeMs = i, Known = true }, SecondsLeft = (number * 3) + i, Demands = (number * 5) + i };
            }

            output.Events[u] = new GuardEvent { Sequence = (2 * number) + u, Scan = number, UtcUnixMs = 5, Unit = u, Id = EventId.Trip, Function = FunctionId.Elem, Reason = RefusalReason.NotReset, Value = number, Limit = -1, Detail = 9 };
        }

        return (scan, output);
    }
}
