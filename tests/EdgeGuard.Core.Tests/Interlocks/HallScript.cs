using CsCheck;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>A random life of a hall: a list of changes, each followed by some scans. The same script gives the same life.</summary>
public sealed class HallScript
{
    private static readonly double[] Elements = [40, 60, 300, 700, 790, 805, 846, 851, 900, 9999];
    private static readonly double[] Outlets = [40, 50, 250, 650, 685, 716, 721, 9999];
    private static readonly double[] Flows = [0, 40, 69, 71, 131, 140, 140, 140, 2000];
    private static readonly double[] Powers = [0, 0.5, 5, 10, 27, 36, 500];
    private static readonly double[] Residuals = [0, 0, 0, 0.5, 18];
    private static readonly ReadResult[] Links = [ReadResult.Good, ReadResult.Good, ReadResult.Good, ReadResult.Timeout, ReadResult.NotConnected];
    private static readonly RequestKind[] Requests =
        [RequestKind.Reset, RequestKind.Reset, RequestKind.Start, RequestKind.Start, RequestKind.Acknowledge, RequestKind.Stop, RequestKind.Cool];

    private static readonly (SignalRole Signal, double[] Values)[] Forced =
    [
        (SignalRole.ElementTemperature, [20, 300, 600, 860]), (SignalRole.OutletTemperature, [20, 250, 600, 730]),
        (SignalRole.GasFlow, [40, 140, 140, 150]), (SignalRole.InletTemperature, [20, 60, 90, 40]),
    ];

    private readonly (int Kind, int Value, int Unit, int Scans)[] _steps;

    private HallScript((int, int, int, int)[] steps) => _steps = steps;

    /// <summary>Scripts of up to 40 changes; with requests or without, with forced values or without.</summary>
    public static Gen<HallScript> Gen(bool requests, bool forces = false) =>
        CsCheck.Gen.Select(CsCheck.Gen.Int[0, forces ? 19 : requests ? 15 : 11], CsCheck.Gen.Int[0, 9_999], CsCheck.Gen.Int[0, 1], CsCheck.Gen.Int[1, 60])
            .Array[1, 40].Select(steps => new HallScript(steps));

    /// <summary>Two units with short proving times, so that a life of minutes holds several starts.</summary>
    public static SiteTable Site(UnitMode second = UnitMode.Enforce)
    {
        SiteTable site = TestSite.Of(TestSite.N1(), TestSite.A1(second)) with { SupplyLimitKw = 45, JournalFailureMs = 3_000 };
        return site with { Units = [.. site.Units.Select(u => u with { Flow = u.Flow with { PreFlowMs = 2_000, HotPreFlowMs = 1_000 } })] };
    }

    public void Live(TestHall hall)
    {
        foreach ((int kind, int value, int unit, int scans) in _steps)
        {
            Change(hall, kind, value, unit);
            hall.Run(scans);
        }
    }

    public override string ToString() => string.Join("; ", _steps.Select(s => $"{s.Kind},{s.Value},{s.Unit},{s.Scans}"));

    private static T Pick<T>(T[] values, int value) => values[value % values.Length];

    private static void Change(TestHall hall, int kind, int value, int unit)
    {
        TestCabinet cabinet = hall.Cabinets[unit];
        switch (kind)
        {
            case 0: cabinet.Element = Pick(Elements, value); break;
            case 1: cabinet.Outlet = Pick(Outlets, value); break;
            case 2: cabinet.Flow = Pick(Flows, value); break;
            case 3: cabinet.Power = Pick(Powers, value); break;
            case 4: cabinet.Residual = Pick(Residuals, value); break;
            case 5: cabinet.Link = Pick(Links, value); break;
            case 6: cabinet.Key = value % 4 != 0; break;
            case 7: cabinet.Chain = value % 4 != 0; break;
            case 8: cabinet.Watchdog = value % 4 == 0 ? 9_000 : 2_000; break;
            case 9: cabinet.Stuck = value % 4 == 0; break;
            case 10: cabinet.Feedback = value % 3 == 0 ? CommandFeedback.Outstanding : CommandFeedback.Confirmed; break;
            case 11: hall.Scan.Journal = value % 3 == 0 ? JournalHealth.Failing : JournalHealth.Healthy; break;
            case 12: hall.DurableFollows = value % 3 != 0; break;
            case 16 or 17 or 18:
                (SignalRole signal, double[] values) = Forced[value % Forced.Length];
                hall.Force(unit, signal, values[value / 4 % values.Length], (ushort)((value / 16 % 2) + 1));
                break;
            case 19: hall.Unforce(unit, Forced[value % Forced.Length].Signal); break;
            default: hall.Request(unit, Pick(Requests, value), value % 5 == 0); break;
        }
    }
}
