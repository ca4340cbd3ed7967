using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Kept;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Guarding.Watching;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Guarding.Watching;

/// <summary>Alarms and use of a unit from outputs as the core gives them.</summary>
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
    }

    private UnitDecision Unit => _output.Units[0];

    [Fact]
    public void An_alarm_is_shown_until_it_is_acknowledged_and_gone()
    {
        Set(FunctionId.Elem, FunctionState.Alarm);
        Scan();
        Assert.Equal(AlarmState.Unacknowledged, State(FunctionId.Elem));
        Acknowledge();
        Assert.Equal(AlarmState.Acknowledged, State(FunctionId.Elem));
        Set(FunctionId.Elem, FunctionState.Healthy);
        Scan();
        Assert.Equal(AlarmState.Normal, State(FunctionId.Elem));
        Assert.Equal(1, _watch.Rates.Total);
        Assert.Equal(100, _watch.Rates.PriorityPercent(AlarmPriority.Medium));
    }

    [Trait("requirement", "FORC-8")]
    [Fact]
    public void The_alarm_of_a_forced_value_stays_audible_in_a_tripped_unit()
    {
        OutputAccess.SetState(Unit, UnitState.Tripped, FunctionId.Flow);
        Scan();
        Unit.Functions[(int)FunctionId.Sens] = new FunctionStatus { State = FunctionState.Alarm, Finding = Finding.Forced };
        Scan();
        Assert.Equal(AlarmState.Unacknowledged, State(FunctionId.Sens));
        Acknowledge();
        Scan();
        Assert.Equal(AlarmState.Acknowledged, State(FunctionId.Sens));
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

    [Fact]
    public void An_alarm_that_begins_in_the_scan_of_an_acknowledgement_is_not_acknowledged()
    {
        Scan();
        Set(FunctionId.Elem, FunctionState.Alarm);
        Acknowledge();
        Assert.Equal(AlarmState.Unacknowledged, State(FunctionId.Elem));
    }

    // The blower stops: FLOW demands and trips in one scan, the element falls and the sensors follow. One sound, for the trip.
    [Trait("requirement", "ALRM-3")]
    [Fact]
    public void A_trip_is_heard_once_and_its_consequences_are_not()
    {
        Set(FunctionId.Flow, FunctionState.Demand);
        OutputAccess.SetState(Unit, UnitState.Tripped, FunctionId.Flow);
        Scan();
        Set(FunctionId.Sens, FunctionState.Demand);
        Set(FunctionId.Cool, FunctionState.Alarm);
        Scan();
        Assert.Equal(AlarmState.Unacknowledged, _watch[0][UnitWatch.Trip]);
        Assert.Equal(AlarmState.SuppressedByDesign, State(FunctionId.Flow));
        Assert.Equal(AlarmState.SuppressedByDesign, State(FunctionId.Sens));
        Assert.Equal(AlarmState.SuppressedByDesign, State(FunctionId.Cool));
        Assert.Equal(1, _watch.Rates.Total);
        Assert.Equal(100, _watch.Rates.PriorityPercent(AlarmPriority.High));

        // After the reset the flow is still missing: told.
        Acknowledge();
        OutputAccess.SetState(Unit, UnitState.Ready, FunctionId.None);
        Scan();
        Assert.Equal(AlarmState.Normal, _watch[0][UnitWatch.Trip]);
        Assert.Equal(AlarmState.Unacknowledged, State(FunctionId.Flow));
        Scan();
        Assert.Equal(AlarmState.Unacknowledged, State(FunctionId.Flow));
    }

    // What a person must still hear while tripped.
    [Theory]
    [InlineData(FunctionId.Elem)]
    [InlineData(FunctionId.Outl)]
    [InlineData(FunctionId.Resd)]
    [InlineData(FunctionId.Aftc)]
    [InlineData(FunctionId.Jrnl)]
    [InlineData(FunctionId.Self)]
    public void Dangers_are_heard_while_tripped(FunctionId function)
    {
        OutputAccess.SetState(Unit, UnitState.Tripped, FunctionId.Flow);
        Scan();
        Set(function, FunctionState.Demand);
        Scan();
        Assert.Equal(AlarmState.Unacknowledged, State(function));
    }

    [Fact]
    public void Power_on_and_a_stop_are_no_alarms()
    {
        OutputAccess.SetState(Unit, UnitState.Tripped, FunctionId.Start);
        Set(FunctionId.Start, FunctionState.Demand);
        Set(FunctionId.Stop, FunctionState.Demand);
        Scan();
        Assert.Equal(0, _watch.Rates.Total);
    }

    [Fact]
    public void An_acknowledgement_of_another_unit_changes_nothing()
    {
        Set(FunctionId.Elem, FunctionState.Alarm);
        Scan();
        OutputAccess.AddEvent(_output, new GuardEvent { Id = EventId.Acknowledged, Unit = 1 });
        Scan();
        Assert.Equal(AlarmState.Unacknowledged, State(FunctionId.Elem));
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
        Unit.Forced[1].Real.Status = StatusCode.Bad;
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

    [Fact]
    public void Status_tells_alarms_use_and_time_left()
    {
        Set(FunctionId.Elem, FunctionState.Alarm);
        OutputAccess.SetState(Unit, UnitState.Heating, FunctionId.None);
        OutputAccess.SetLed(Unit, Site.Units[0].SetpointC - (2 * Site.Units[0].Cool.RampUpKPerMin));
        Scan();
        var snapshot = new UnitSnapshot();
        Assert.Empty(UnitTexts.Alarms(snapshot));
        snapshot.CopyFrom(Unit, _watch[0]);
        Assert.Equal([new AlarmReport("ELEM", "Unacknowledged")], UnitTexts.Alarms(snapshot));
        Assert.Equal(120, UnitTexts.SecondsLeft(Site.Units[0], snapshot)!.Value, 1e-9);
        Assert.Equal(0, UnitTexts.Use(snapshot).KilowattHours);
        snapshot.State = UnitState.Ready;
        Assert.Null(UnitTexts.SecondsLeft(Site.Units[0], snapshot));
    }

    [Fact]
    public void A_scan_allocates_nothing()
    {
        Set(FunctionId.Elem, FunctionState.Alarm);
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

    private void Set(FunctionId function, FunctionState state) => Unit.Functions[(int)function].State = state;

    private AlarmState State(FunctionId function) => _watch[0][(int)function];

    private void Acknowledge()
    {
        OutputAccess.AddEvent(_output, new GuardEvent { Id = EventId.Acknowledged, Unit = 0 });
        Scan();
        OutputAccess.ClearEvents(_output);
    }

    private void Scan()
    {
        _scan.Scan = _number++;
        _watch.Copy(default, _scan, _output);
    }
}
