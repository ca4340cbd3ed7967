using System.Globalization;
using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Guarding.Watching;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Guarding;

/// <summary>Builds the status from copies, on the thread of whoever asks.</summary>
internal sealed class GuardStatus : IStatusSource
{
    private readonly GuardPlan _plan;
    private readonly string _version;
    private readonly StatusBoard _board;
    private readonly JournalThread _journal;
    private readonly FieldBus _field;
    private readonly ScanStatistics _statistics;
    private readonly AllocationMeter _allocations;
    private readonly AcceptedOrders _hidden;

    public GuardStatus(GuardPlan plan, string version, StatusBoard board, JournalThread journal, FieldBus field, ScanStatistics statistics, AllocationMeter allocations, AcceptedOrders hidden)
    {
        _plan = plan;
        _version = version;
        _board = board;
        _journal = journal;
        _field = field;
        _statistics = statistics;
        _allocations = allocations;
        _hidden = hidden;
    }

    /// <inheritdoc/>
    public SiteStatus Status()
    {
        LoopStatus loop = Loop();
        return _board.Read(copy => Site(copy, loop, SupplyForecast.SecondsUntilHot(_plan.Site, copy.Units)));
    }

    private SiteStatus Site(StatusSnapshot copy, LoopStatus loop, double[] hot)
    {
        return new SiteStatus
        {
            Site = _plan.Site.Name,
            Version = _version,
            ProcessId = Environment.ProcessId,
            Scan = copy.Scan,
            UtcUnixMs = copy.UtcUnixMs,
            ScanMs = _plan.Site.ScanMs,
            SitePowerKw = Finite.OrNull(copy.SitePowerKw),
            Journal = Journal(),
            Loop = loop,
            Links = [.. _field.Workers.Select((w, i) => Link(w.Engine) with { Certificates = CertificateReports.Of(_plan.Links[i].Options?.Security, w.Engine, copy.UtcUnixMs) })],
            Alarms = Alarms(copy.Alarms),
            SupplyLimitKw = Finite.OrNull(_plan.Site.SupplyLimitKw),
            SecondsUntilAllHot = SupplyForecast.All(hot),
            Units = [.. copy.Units.Select((u, i) => Unit(_plan.Site.Units[i], u, alarm => _hidden.Latest(i, (int)alarm)) with { SecondsUntilHot = Finite.OrNull(hot[i]) })],
        };
    }

    private static AlarmStatus Alarms(in AlarmFigures a) =>
        new(a.Total, a.InTenMinutes, a.MostInTenMinutes, a.AverageInTenMinutes, a.InFlood, a.Floods, a.FloodPercent)
        {
            Load = AlarmBenchmarks.OfAverage(a.AverageInTenMinutes).ToString(),
            UpsetLoad = AlarmBenchmarks.OfUpset(a.MostInTenMinutes).ToString(),
            High = a.High,
            Medium = a.Medium,
            Low = a.Low,
            Standing = a.Tally.Standing,
            Unacknowledged = a.Tally.Unacknowledged,
            Shelved = a.Tally.Shelved,
            Suppressed = a.Tally.Suppressed,
            OutOfService = a.Tally.OutOfService,
            Chattering = a.Tally.Chattering,
            Stale = a.Tally.Stale,
        };

    private LoopStatus Loop() => new(
        _statistics.Scans,
        _statistics.LatenessUs,
        _statistics.LatenessMaxUs,
        _statistics.StepMaxUs,
        _statistics.Overruns,
        _statistics.Skipped,
        _statistics.ClockSteps,
        GC.GetTotalAllocatedBytes(precise: true),
        _allocations.LastMinuteBytes,
        GC.CollectionCount(0));

    private JournalStatus Journal()
    {
        JournalHead? head = ReadHead();
        return new JournalStatus(_journal.Health.ToString(), _journal.DurableEvent, _journal.LostEvents, _journal.Failure, head?.Number, head?.Hash);
    }

    private JournalHead? ReadHead()
    {
        try
        {
            return JournalHead.Parse(File.ReadAllBytes(Path.Combine(_plan.DataFolder, GuardHost.JournalFolder, JournalNames.Head)));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    private static LinkStatus Link(LinkEngine engine)
    {
        long[] figures = new long[LinkFigureTexts.Count];
        engine.CopyFigures(figures);
        var counts = new Dictionary<string, long>(StringComparer.Ordinal);
        foreach (LinkFigureText text in LinkFigureTexts.All)
        {
            long count = figures[(int)text.Figure];
            if (text.Kind != LinkFigureKind.State && count != 0)
            {
                counts.Add(text.Name, count);
            }
        }

        return new LinkStatus(engine.Table.Name, engine.IsOnline, counts);
    }

    private static UnitStatus Unit(UnitTable table, UnitSnapshot unit, Func<FunctionId, RequestOrder?> hiddenBy) => new()
    {
        Name = table.Name,
        Mode = table.Mode.ToString(),
        State = unit.State.ToString(),
        FirstOut = unit.FirstOut == FunctionId.None ? null : FunctionTexts.Of(unit.FirstOut).Code,
        Permit = unit.Permit,
        PendingDurable = unit.PendingDurable,
        PowerProvedOff = unit.PowerProvedOff,
        RampHeld = unit.RampHeld,
        SupplyPlace = unit.SupplyPlace > 0 ? unit.SupplyPlace : null,
        LedSetpointC = Finite.OrNull(unit.LedSetpointC),
        ElementSlopeKPerMin = Finite.OrNull(unit.ElementSlopeKPerMin),
        CoolSlopeKPerMin = Finite.OrNull(unit.CoolSlopeKPerMin),
        TripCount = unit.TripCount,
        LastTrip = unit.LastTrip == FunctionId.None ? null : FunctionTexts.Of(unit.LastTrip).Code,
        LastTripClass = unit.LastTrip == FunctionId.None ? null : unit.LastTripClass.ToString(),
        ResetsTooOften = unit.ResetsTooOften,
        SecondsLeft = UnitTexts.SecondsLeft(table, unit),
        Alarms = UnitTexts.Alarms(unit, hiddenBy),
        Use = UnitTexts.Use(unit),
        Forcible = Forcible(table.Force),
        Signals = [.. table.Signals.Select(s => Signal(s.Role, unit.Signals[(int)s.Role]) with { Forced = Forced(unit, s.Role) })],
        Functions = [.. Enumerable.Range(1, FunctionIds.Count - 1).Where(f => IsWorthTelling(unit, f)).Select(f => Function((FunctionId)f, unit.Functions[f], unit.Counts[f]))],
    };

    private static SignalStatus Signal(SignalRole role, in SignalValue value) =>
        new(role.ToString(), Finite.OrNull(value.Value), value.IsGood, value.Status.ToString("x8", CultureInfo.InvariantCulture), value.AgeMs);

    private static ForceStatus? Forced(UnitSnapshot unit, SignalRole role)
    {
        foreach (ForcedSignal forced in unit.Forced)
        {
            if (forced.Active && forced.Role == role)
            {
                double? real = forced.Real.IsGood ? Finite.OrNull(forced.Real.Value) : null;
                return new ForceStatus(real, forced.Real.Status.ToString("x8", CultureInfo.InvariantCulture), forced.SecondsLeft, forced.Demands);
            }
        }

        return null;
    }

    private static string? Forcible(ForceTable table) => table.Signals.Count == 0 ? null
        : string.Create(CultureInfo.InvariantCulture, $"{string.Join(", ", table.Signals.Select(s => string.Create(CultureInfo.InvariantCulture, $"{s.Role} {s.Min} to {s.Max}")))}, up to {table.MaxMinutes} min");

    private static bool IsWorthTelling(UnitSnapshot unit, int function) =>
        unit.Functions[function].State != FunctionState.Idle || unit.Functions[function].Bypassed || unit.Counts[function].Trips > 0 || unit.Counts[function].ForcedDemands > 0;

    private static FunctionReport Function(FunctionId id, in FunctionStatus status, in FunctionCounts counts)
    {
        FunctionText text = FunctionTexts.Of(id);
        return new FunctionReport(text.Code, status.State.ToString(), Finite.OrNull(status.Value), Finite.OrNull(status.Limit), text.Unit)
        {
            BypassSecondsLeft = status.Bypassed ? status.BypassSecondsLeft : null,
            Demands = counts.Demands,
            BypassedDemands = counts.BypassedDemands,
            ForcedDemands = counts.ForcedDemands,
            Trips = counts.Trips,
            SpuriousTrips = counts.SpuriousTrips,
        };
    }
}
