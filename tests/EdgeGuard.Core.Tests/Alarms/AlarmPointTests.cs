using CsCheck;
using EdgeGuard.Core.Alarms;

namespace EdgeGuard.Core.Tests.Alarms;

public sealed class AlarmPointTests
{
    private const int ScanMs = 1_000;

    private static readonly AlarmTable Plain = new() { IsTrip = false, IsLatching = false, Priority = AlarmPriority.Low, ShelveMostScans = 100 };
    private static readonly AlarmTable Latching = Plain with { IsLatching = true };
    private static readonly AlarmTable Trip = Latching with { IsTrip = true, Priority = AlarmPriority.High };

    [Fact]
    public void A_condition_is_heard_once_acknowledged_and_gone()
    {
        var alarm = new AlarmPoint(Plain, ScanMs);
        alarm.Step(0, true, false);
        Assert.True(alarm.JustAnnunciated);
        alarm.Step(1, true, false);
        Assert.False(alarm.JustAnnunciated);
        Assert.Equal(AlarmAnswer.Done, alarm.Acknowledge(1));
        Assert.Equal(AlarmAnswer.WrongState, alarm.Acknowledge(1));
        alarm.Step(2, false, false);
        Assert.Equal(AlarmState.Normal, alarm.State);
        Assert.Equal(1, alarm.Annunciations);
    }

    [Fact]
    public void A_latched_alarm_is_reset_only_after_it_was_acknowledged_and_has_gone()
    {
        var alarm = new AlarmPoint(Latching, ScanMs);
        alarm.Step(0, true, false);
        Assert.Equal(AlarmAnswer.WrongState, alarm.Reset(0));
        alarm.Step(1, false, false);
        Assert.Equal(AlarmState.LatchedUnacknowledged, alarm.State);
        Assert.Equal(AlarmAnswer.WrongState, alarm.Reset(1));
        Assert.Equal(AlarmAnswer.Done, alarm.Acknowledge(1));
        alarm.Step(2, true, false);
        Assert.Equal(AlarmState.Unacknowledged, alarm.State);
        Assert.Equal(AlarmAnswer.WrongState, alarm.Reset(2));
        alarm.Acknowledge(2);
        alarm.Step(3, false, false);
        Assert.Equal(AlarmAnswer.Done, alarm.Reset(3));
        Assert.Equal(AlarmState.Normal, alarm.State);
    }

    [Trait("requirement", "ALRM-2")]
    [Fact]
    public void The_shelf_ends_by_itself_and_shows_what_stands()
    {
        var alarm = new AlarmPoint(Plain, ScanMs);
        alarm.Step(0, true, false);
        Assert.Equal(AlarmAnswer.Done, alarm.Shelve(0, 10));
        Assert.Equal(10, alarm.ShelvedUntil);
        alarm.Step(10, true, false);
        Assert.Equal(AlarmState.Shelved, alarm.State);
        alarm.Step(11, true, false);
        Assert.Equal(AlarmState.Unacknowledged, alarm.State);
        Assert.Equal(2, alarm.Annunciations);
        Assert.Equal(AlarmAnswer.Done, alarm.Shelve(11, 10));
        alarm.Step(12, false, false);
        Assert.Equal(AlarmAnswer.Done, alarm.Unshelve(12));
        Assert.Equal(AlarmState.Normal, alarm.State);
    }

    [Trait("requirement", "ALRM-2")]
    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(101)]
    public void The_shelf_has_a_limit(int scans)
    {
        var alarm = new AlarmPoint(Plain, ScanMs);
        Assert.Equal(AlarmAnswer.WrongTime, alarm.Shelve(0, scans));
        Assert.Equal(AlarmState.Normal, alarm.State);
    }

    [Trait("requirement", "ALRM-2")]
    [Fact]
    public void The_alarm_of_a_trip_is_neither_shelved_nor_taken_out_of_service()
    {
        var alarm = new AlarmPoint(Trip, ScanMs);
        alarm.Step(0, true, false);
        Assert.Equal(AlarmAnswer.IsTrip, alarm.Shelve(0, 10));
        Assert.Equal(AlarmAnswer.IsTrip, alarm.RemoveFromService(0));
        Assert.Equal(AlarmState.Unacknowledged, alarm.State);
        var stated = new AlarmPoint(Trip with { MayHideTrip = true }, ScanMs);
        Assert.Equal(AlarmAnswer.Done, stated.Shelve(0, 10));
        Assert.Equal(AlarmAnswer.Done, stated.RemoveFromService(0));
    }

    // A consequence of a trip begins in the scan in which the unit trips: nobody hears it, until the suppression ends.
    [Trait("requirement", "ALRM-3")]
    [Fact]
    public void A_suppressed_consequence_is_never_heard()
    {
        var alarm = new AlarmPoint(Plain, ScanMs);
        alarm.Step(0, false, false);
        alarm.Step(1, true, true);
        alarm.Step(2, true, true);
        Assert.Equal(AlarmState.SuppressedByDesign, alarm.State);
        Assert.Equal(0, alarm.Annunciations);
        alarm.Step(3, false, false);
        Assert.Equal(AlarmState.Normal, alarm.State);
        Assert.Equal(0, alarm.Annunciations);
        alarm.Step(4, true, true);
        alarm.Step(5, true, false);
        Assert.Equal(AlarmState.Unacknowledged, alarm.State);
        Assert.Equal(1, alarm.Annunciations);
    }

    [Fact]
    public void A_latch_survives_suppression_service_and_shelf()
    {
        var suppressed = new AlarmPoint(Latching, ScanMs);
        suppressed.Step(0, true, true);
        suppressed.Step(1, false, true);
        suppressed.Step(2, false, false);
        Assert.Equal(AlarmState.LatchedUnacknowledged, suppressed.State);

        var shelved = new AlarmPoint(Latching, ScanMs);
        shelved.Shelve(0, 5);
        shelved.Step(1, true, false);
        shelved.Step(2, false, false);
        shelved.Step(6, false, false);
        Assert.Equal(AlarmState.LatchedUnacknowledged, shelved.State);

        var out_ = new AlarmPoint(Latching, ScanMs);
        Assert.Equal(AlarmAnswer.Done, out_.RemoveFromService(0));
        Assert.Equal(AlarmAnswer.WrongState, out_.RemoveFromService(0));
        out_.Step(1, true, false);
        out_.Step(2, false, false);
        Assert.Equal(AlarmAnswer.Done, out_.ReturnToService(2));
        Assert.Equal(AlarmState.LatchedUnacknowledged, out_.State);
    }

    [Fact]
    public void The_shelf_ends_into_a_suppression_that_stands()
    {
        var alarm = new AlarmPoint(Plain, ScanMs);
        alarm.Shelve(0, 5);
        alarm.Step(1, true, true);
        Assert.Equal(AlarmState.Shelved, alarm.State);
        alarm.Step(6, true, true);
        Assert.Equal(AlarmState.SuppressedByDesign, alarm.State);
    }

    // Whatever happens in whatever order: a condition that stands is shown, unless somebody or the design hides it; and a
    // latching alarm that stood is never normal before a reset.
    [Trait("requirement", "ALRM-3")]
    [Fact]
    public void A_standing_condition_is_shown_unless_hidden_and_a_latch_is_never_lost()
    {
        Gen.Int[0, 9].Array[1, 60].Sample(acts =>
        {
            var alarm = new AlarmPoint(Latching, ScanMs);
            bool condition = false, suppressed = false, stood = false;
            for (int scan = 0; scan < acts.Length; scan++)
            {
                condition = acts[scan] switch { 0 => true, 1 => false, _ => condition };
                suppressed = acts[scan] switch { 2 => true, 3 => false, _ => suppressed };
                stood |= condition;
                alarm.Step(scan, condition, suppressed);
                stood &= !Act(alarm, scan, acts[scan]);
                Assert.True(!condition || alarm.State is not (AlarmState.Normal or AlarmState.ReturnedUnacknowledged or AlarmState.LatchedAcknowledged or AlarmState.LatchedUnacknowledged));
                Assert.True(!stood || alarm.State != AlarmState.Normal);
                Assert.True(AlarmDiagram.IsOpen(alarm.State) || suppressed || alarm.State != AlarmState.SuppressedByDesign);
            }
        });
    }

    // Three annunciations within a minute (from memory).
    [Trait("requirement", "ALRM-4")]
    [Fact]
    public void Three_times_in_a_minute_is_chattering()
    {
        var alarm = new AlarmPoint(Plain, ScanMs);
        foreach (int at in new[] { 0, 20, 60 })
        {
            alarm.Step(at, true, false);
            Assert.Equal(at == 60, alarm.IsChattering(at));
            alarm.Step(at + 1, false, false);
        }

        Assert.False(alarm.IsChattering(61));
        alarm.Step(79, true, false);
        Assert.True(alarm.IsChattering(79));
        Assert.False(alarm.IsChattering(81));
    }

    // More than 24 h (from memory).
    [Trait("requirement", "ALRM-4")]
    [Fact]
    public void More_than_a_day_is_stale_unless_hidden()
    {
        var alarm = new AlarmPoint(Plain, ScanMs);
        alarm.Step(0, true, false);
        Assert.False(alarm.IsStale(86_400));
        Assert.True(alarm.IsStale(86_401));
        alarm.Shelve(86_401, 10);
        Assert.False(alarm.IsStale(86_401));
    }

    [Fact]
    public void A_scan_allocates_nothing()
    {
        var alarm = new AlarmPoint(Plain, ScanMs);
        var rates = new AlarmRates(ScanMs);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int scan = 0; scan < 10_000; scan++)
        {
            rates.Step(scan);
            alarm.Step(scan, scan % 3 == 0, scan % 7 == 0);
            if (alarm.JustAnnunciated)
            {
                rates.Annunciated(AlarmPriority.Low);
            }
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(alarm.Annunciations, rates.Total);
    }

    /// <summary>True when a reset was done.</summary>
    private static bool Act(AlarmPoint alarm, int scan, int act)
    {
        switch (act)
        {
            case 4:
                alarm.Acknowledge(scan);
                return false;
            case 5:
                return alarm.Reset(scan) == AlarmAnswer.Done;
            case 6:
                alarm.Shelve(scan, 3);
                return false;
            case 7:
                alarm.Unshelve(scan);
                return false;
            case 8:
                alarm.RemoveFromService(scan);
                return false;
            case 9:
                alarm.ReturnToService(scan);
                return false;
            default:
                return false;
        }
    }
}
