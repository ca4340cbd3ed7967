using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>The verdict on a device's settings: what differs, or is not known, never gets a permit.</summary>
public sealed class DeviceSettingsTests
{
    private const int VerdictBlock = TestSite.BlocksPerUnit;
    private ushort _verdict = 1;
    private bool _known = true;

    [Trait("requirement", "CMDV-7")]
    [Theory]
    [InlineData(0, true)]
    [InlineData(1, false)]
    public void Settings_that_differ_or_are_not_known_refuse_a_start(ushort verdict, bool known)
    {
        TestHall hall = Hall().BringTo(0, UnitState.Ready);
        (_verdict, _known) = (verdict, known);
        hall.Run(60).Request(0, RequestKind.Start).Run();
        Assert.Equal(UnitState.Ready, hall[0].State);
        GuardEvent refusal = hall.Output.Events.Take(hall.Output.EventCount).Single(e => e.Id == EventId.RequestRefused);
        Assert.Equal((FunctionId.Cmdv, RefusalReason.SettingsNotAsCommissioned), (refusal.Function, refusal.Reason));
        (_verdict, _known) = (1, true);
        hall.Run().Request(0, RequestKind.Start).Run();
        Assert.Equal(UnitState.PreFlow, hall[0].State);
    }

    [Fact]
    public void Settings_that_differ_without_a_permit_are_an_alarm_and_no_trip()
    {
        TestHall hall = Hall().BringTo(0, UnitState.Ready);
        _verdict = 0;
        hall.Run();
        ref FunctionStatus status = ref hall[0].Functions[(int)FunctionId.Cmdv];
        Assert.Equal((FunctionState.Alarm, Finding.DeviceSettings, 0.0), (status.State, status.Finding, status.Value));
        Assert.Equal(UnitState.Ready, hall[0].State);
        _verdict = 1;
        hall.Run();
        Assert.Equal(FunctionState.Healthy, hall[0].Functions[(int)FunctionId.Cmdv].State);
    }

    [Trait("requirement", "CMDV-7")]
    [Fact]
    public void Settings_found_different_under_a_permit_trip_at_once()
    {
        TestHall hall = Hall().BringTo(0, UnitState.Heating);
        _verdict = 0;
        hall.Run();
        Assert.Equal((UnitState.Tripped, FunctionId.Cmdv), (hall[0].State, hall[0].FirstOut));
        Assert.False(hall[0].Permit);
    }

    [Fact]
    public void A_verdict_that_is_lost_under_a_permit_alarms_after_two_seconds_and_neither_trips_nor_counts_as_a_lost_link()
    {
        TestHall hall = Hall().BringTo(0, UnitState.Heating);
        _known = false;
        hall.Run(4 + 20); // Stale in the fifth scan (520 ms), then 2 s.
        Assert.NotEqual(FunctionState.Alarm, hall[0].Functions[(int)FunctionId.Cmdv].State);
        hall.Run();
        Assert.Equal((FunctionState.Alarm, Finding.DeviceSettings), (hall[0].Functions[(int)FunctionId.Cmdv].State, hall[0].Functions[(int)FunctionId.Cmdv].Finding));
        hall.Run(100);
        Assert.True(hall[0].Permit);
    }

    [Fact]
    public void Settings_lost_in_pre_flow_hold_the_permit_back_until_they_are_known_again()
    {
        TestHall hall = Hall().BringTo(0, UnitState.PreFlow);
        _known = false;
        hall.Run(400);
        Assert.Equal((UnitState.PreFlow, false), (hall[0].State, hall[0].PendingDurable));
        _known = true;
        Assert.True(hall.Run(3)[0].Permit);
    }

    private TestHall Hall()
    {
        SiteTable site = TestSite.Of(TestSite.N1());
        var verdict = new SignalTable
        {
            Role = SignalRole.ControllerSettings, Block = VerdictBlock, WordOffset = 0, Type = WordType.UInt16, RangeMin = 0, RangeMax = 1, StaleMs = 500, HoldMs = 5_000,
        };
        UnitTable unit = site.Units[0];
        site = site with { BlockWordCounts = [.. site.BlockWordCounts, 1], Units = [unit with { Signals = [.. unit.Signals, verdict] }] };
        return new TestHall(site) { BeforeStep = FillVerdict };
    }

    private void FillVerdict(TestHall hall)
    {
        ref RawBlock block = ref hall.Scan.Blocks[VerdictBlock];
        block.Result = _known ? ReadResult.Good : ReadResult.NotConnected;
        block.AgeMs = _known ? 20 : Math.Min(1_000_000, block.AgeMs + hall.Site.ScanMs);
        block.ReadCount += _known ? 1u : 0;
        block.Words[0] = _verdict;
    }
}
