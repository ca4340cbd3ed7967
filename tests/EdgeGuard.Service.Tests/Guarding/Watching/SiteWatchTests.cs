using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Kept;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Guarding.Watching;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Guarding.Watching;

/// <summary>Alarm figures and use of a unit from outputs as the core gives them.</summary>
public sealed class SiteWatchTests
{
    private static readonly SiteTable Site = GuardSites.Table();
    private readonly SiteWatch _watch = new(Site);
    private readonly ScanOutput _output = new(Site.Units.Count);
    private readonly RawScan _scan = new([.. Site.BlockWordCounts], Site.Units.Count);
    private long _number;

    public SiteWatchTests()
    {
        for (int i = 0; i < FunctionIds.Count; i++)
        {
            Unit.Functions[i].State = FunctionState.Healthy;
        }

        OutputAccess.SetState(Unit, UnitState.Holding, FunctionId.None);
        foreach (UnitDecision unit in _output.Units)
        {
            Array.Fill(unit.Alarms, new AlarmPointStatus { State = AlarmState.Normal });
        }
    }

    private UnitDecision Unit => _output.Units[0];

    [Trait("requirement", "ALRM-4")]
    [Fact]
    public void What_was_announced_is_counted_by_priority_and_what_is_the_matter_by_kind()
    {
        Set(FunctionId.None, new AlarmPointStatus { State = AlarmState.Unacknowledged, Condition = true, JustAnnunciated = true, IsChattering = true });
        Set(FunctionId.Elem, new AlarmPointStatus { State = AlarmState.ReturnedUnacknowledged, JustAnnunciated = true });
        Set(FunctionId.Outl, new AlarmPointStatus { State = AlarmState.Acknowledged, Condition = true, IsStale = true });
        Set(FunctionId.Heat, new AlarmPointStatus { State = AlarmState.Shelved, Condition = true });
        Set(FunctionId.Aftc, new AlarmPointStatus { State = AlarmState.OutOfService, Condition = true });
        Set(FunctionId.Cool, new AlarmPointStatus { State = AlarmState.SuppressedByDesign, Condition = true, Suppression = AlarmSuppression.ForcedByTrip });
        Set(FunctionId.Sens, new AlarmPointStatus { State = AlarmState.SuppressedByDesign });
        Scan();
        AlarmTally tally = _watch.Tally;
        Assert.Equal((2, 2, 1, 1, 1, 1, 1), (tally.Standing, tally.Unacknowledged, tally.Shelved, tally.OutOfService, tally.Suppressed, tally.Chattering, tally.Stale));
        Assert.Equal((1L, 1L, 0L), (_watch.Rates.Count(AlarmPriority.High), _watch.Rates.Count(AlarmPriority.Medium), _watch.Rates.Count(AlarmPriority.Low)));
        AlarmFigures figures = AlarmFigures.Of(_watch);
        Assert.Equal((2L, 1L, 1L, 0L, 2), (figures.Total, figures.High, figures.Medium, figures.Low, figures.Tally.Standing));
    }

    [Fact]
    public void A_forced_value_counts_neither_as_use_nor_as_stress()
    {
        Unit.Image[SignalRole.ElementTemperature] = new SignalValue { Value = 1_150, Status = StatusCode.GoodLocalOverride, Known = true };
        Unit.Forced[1] = new ForcedSignal { Active = true, Role = SignalRole.ElementTemperature, Real = new SignalValue { Value = 350, Known = true } };
        for (int i = 0; i < 100; i++)
        {
            Scan();
        }

        Assert.True(_watch[0].Stress.BandHours(0) > 0);
        Assert.Equal(0, _watch[0].Stress.BandHours(5));
    }

    [Trait("requirement", "THRM-7")]
    [Fact]
    public void A_fall_while_tripped_is_forced_and_a_led_one_is_not()
    {
        Fall(UnitState.LedCooldown, FunctionId.None);
        Fall(UnitState.Tripped, FunctionId.Flow);
        Fall(UnitState.Tripped, FunctionId.Flow);
        Assert.Equal((1, 2), (_watch[0].Stress.LedCycles, _watch[0].Stress.ForcedCycles));
    }

    // The fall lies in one run, the rise that makes it a cycle in the next; who stopped the guard while cold forced nothing.
    [Trait("requirement", "KEEP-1")]
    [Theory]
    [InlineData(false, 1, 0)]
    [InlineData(true, 0, 1)]
    public void A_cycle_across_a_restart_is_counted_and_is_forced_only_where_the_run_before_ended_under_power(bool heating, int led, int forced)
    {
        OutputAccess.SetSignal(Unit, SignalRole.ElementTemperature, 600);
        Scan();
        var record = new KeptRecord();
        _watch[0].Keep(record);
        record.Heating = heating;
        record.SinceUtcMs = 5;

        var next = new SiteWatch(Site);
        next.Restore([record, record], [true, true]);
        OutputAccess.SetState(Unit, UnitState.Tripped, FunctionId.Start);
        foreach (double celsius in new[] { 300.0, 600.0 })
        {
            OutputAccess.SetSignal(Unit, SignalRole.ElementTemperature, celsius);
            next.Copy(default, _scan, _output);
        }

        Assert.Equal((led, forced), (next[0].Stress.LedCycles, next[0].Stress.ForcedCycles));
        Assert.Equal(5, next[0].SinceUtcMs);
        Assert.Equal(_watch[0].Stress.BandMs(1) + (2 * Site.ScanMs), next[0].Stress.BandMs(1) + next[0].Stress.BandMs(0));
    }

    // 800 °C really, forced to 20: the hour is one of the band from 700 °C.
    [Fact]
    public void A_forced_element_ages_by_what_it_really_goes_through()
    {
        Unit.Image[SignalRole.ElementTemperature] = new SignalValue { Value = 20, Status = StatusCode.GoodLocalOverride, Known = true };
        Unit.Forced[1] = new ForcedSignal { Active = true, Role = SignalRole.ElementTemperature, Real = new SignalValue { Value = 800, Status = StatusCode.Good, Known = true } };
        Scan();
        Assert.Equal(Site.ScanMs, _watch[0].Stress.BandMs(2));
        Unit.Forced[1].Active = false;
        Scan();
        Assert.Equal(Site.ScanMs, _watch[0].Stress.BandMs(2));
        Assert.Equal(Site.ScanMs / 1000.0, _watch[0].Stress.UnknownSeconds, 1e-9);
    }

    [Fact]
    public void Hours_are_told_by_the_band_of_the_element()
    {
        OutputAccess.SetSignal(Unit, SignalRole.ElementTemperature, 800);
        for (int i = 0; i < 3_600_000 / Site.ScanMs / 10; i++)
        {
            Scan();
        }

        var snapshot = new UnitSnapshot();
        snapshot.CopyFrom(Unit, _watch[0]);
        BandReport band = Assert.Single(UnitTexts.Use(snapshot).Bands);
        Assert.Equal(700, band.FromC);
        Assert.Equal(0.1, band.Hours, 1e-9);
    }

    [Trait("requirement", "THRM-8")]
    [Fact]
    public void Energy_and_contactor_are_counted()
    {
        for (int i = 0; i < 3_600_000 / Site.ScanMs / 100; i++)
        {
            OutputAccess.SetSignal(Unit, SignalRole.Power, 36);
            OutputAccess.SetSignal(Unit, SignalRole.ContactorClosed, i % 2);
            Scan();
        }

        // A hundredth of an hour at 36 kW is 360 Wh.
        Assert.InRange(_watch[0].Duty.WattHours, 359, 360);
        Assert.Equal(3_600_000 / Site.ScanMs / 200, _watch[0].Duty.ContactorClosings);
    }

    [Trait("requirement", "ALRM-7")]
    [Fact]
    public void Status_tells_each_alarm_that_is_not_plainly_normal_with_who_hid_it_and_why()
    {
        var snapshot = new UnitSnapshot();
        Assert.Empty(UnitTexts.Alarms(snapshot, static _ => null));
        Set(FunctionId.Elem, new AlarmPointStatus { State = AlarmState.Unacknowledged, Condition = true, Annunciations = 3, IsChattering = true });
        Set(FunctionId.Heat, new AlarmPointStatus { State = AlarmState.Shelved, Condition = true, ShelfSecondsLeft = 61 });
        Set(FunctionId.Cool, new AlarmPointStatus { State = AlarmState.SuppressedByDesign, Condition = true, Suppression = AlarmSuppression.ForcedByTrip });
        Set(FunctionId.Sens, new AlarmPointStatus { State = AlarmState.SuppressedByDesign, Suppression = AlarmSuppression.LinkLost });
        Scan();
        snapshot.CopyFrom(Unit, _watch[0]);
        IReadOnlyList<AlarmReport> reports = UnitTexts.Alarms(snapshot, static alarm => new RequestOrder(RequestKind.Shelve, 0, "N-1", "Ines", "damper " + alarm));
        Assert.Equal(
            [
                new AlarmReport("ELEM", "Unacknowledged", "Medium") { Condition = true, Chattering = true, Annunciations = 3 },
                new AlarmReport("COOL", "SuppressedByDesign", "Low") { Condition = true, Reason = "the removal of power cools the heater, TRIP tells so" },
                new AlarmReport("HEAT", "Shelved", "Low") { Condition = true, ShelfSecondsLeft = 61, HiddenBy = "Ines", Reason = "damper Heat" },
            ],
            reports);
    }

    [Fact]
    public void Status_tells_use_and_time_left()
    {
        OutputAccess.SetState(Unit, UnitState.Heating, FunctionId.None);
        OutputAccess.SetLed(Unit, Site.Units[0].SetpointC - (2 * Site.Units[0].Cool.RampUpKPerMin));
        Scan();
        var snapshot = new UnitSnapshot();
        snapshot.CopyFrom(Unit, _watch[0]);
        Assert.Equal(120, UnitTexts.SecondsLeft(Site.Units[0], snapshot)!.Value, 1e-9);
        Assert.Equal(0, UnitTexts.Use(snapshot).KilowattHours);
        snapshot.State = UnitState.Ready;
        Assert.Null(UnitTexts.SecondsLeft(Site.Units[0], snapshot));
    }

    [Fact]
    public void A_scan_allocates_nothing()
    {
        Set(FunctionId.Elem, new AlarmPointStatus { State = AlarmState.Unacknowledged, Condition = true, JustAnnunciated = true });
        Scan();
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 1_000; i++)
        {
            Scan();
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private void Fall(UnitState state, FunctionId firstOut)
    {
        OutputAccess.SetState(Unit, UnitState.Holding, FunctionId.None);
        OutputAccess.SetSignal(Unit, SignalRole.ElementTemperature, 600);
        Scan();
        OutputAccess.SetState(Unit, state, firstOut);
        OutputAccess.SetSignal(Unit, SignalRole.ElementTemperature, 300);
        Scan();
        OutputAccess.SetState(Unit, UnitState.Holding, FunctionId.None);
        OutputAccess.SetSignal(Unit, SignalRole.ElementTemperature, 600);
        Scan();
    }

    private void Set(FunctionId alarm, AlarmPointStatus status) => Unit.Alarms[(int)alarm] = status;

    private void Scan()
    {
        _scan.Scan = _number++;
        _watch.Copy(default, _scan, _output);
    }
}
