using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

public sealed class CommandWriterTests
{
    [Trait("requirement", "BLOW-1")]
    [Fact]
    public void A_blower_that_was_raised_at_the_cabinet_is_not_lowered_while_power_remains()
    {
        var hall = new TestHall(TestSite.Of(static i => TestSite.N1()(i) with { Cool = TestSite.N1()(i).Cool with { BlowerRunPercent = 80 } }));
        hall.Cabinets[0].Flow = 200;
        hall.BringTo(0, UnitState.Heating);
        hall.Cabinets[0].Residual = 20;
        hall.Request(0, RequestKind.Stop).RunUntil(static h => h[0].Functions[(int)FunctionId.Resd].State == FunctionState.Demand, 60);
        hall.Cabinets[0][CommandRole.BlowerDemand] = 100;
        Assert.Equal(100, hall.Run(2)[0].Commands[(int)CommandRole.BlowerDemand].Value);
    }

    [Trait("requirement", "TOKN-1")]
    [Fact]
    public void The_permit_token_changes_each_scan_and_is_never_zero_through_its_wrap()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating);
        hall.Cabinets[0].Power = 5; // Below the power NORS judges.
        double before = hall[0].Commands[(int)CommandRole.Heartbeat].Value;
        var seen = new bool[ushort.MaxValue + 1];
        for (int i = 0; i < ushort.MaxValue + 10; i++)
        {
            hall.Run();
            CommandDecision token = hall[0].Commands[(int)CommandRole.Heartbeat];
            Assert.True(token is { Write: true, DeEnergising: false, Value: >= 1 and <= ushort.MaxValue });
            Assert.NotEqual(before, token.Value);
            before = token.Value;
            seen[(int)token.Value] = true;
        }

        Assert.False(seen[0]);
        Assert.Equal(ushort.MaxValue, seen.Count(s => s));
    }

    [Trait("requirement", "TOKN-2")]
    [Fact]
    public void The_token_waits_while_its_write_is_outstanding()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating).Run();
        double token = hall[0].Commands[(int)CommandRole.Heartbeat].Value;
        hall.Cabinets[0].Feedback = CommandFeedback.Outstanding;
        hall.Run(5);
        Assert.Equal(token, hall[0].Commands[(int)CommandRole.Heartbeat].Value);
        Assert.False(hall[0].Commands[(int)CommandRole.Heartbeat].Write);
        hall.Cabinets[0].Feedback = CommandFeedback.Failed;
        hall.Run();
        Assert.Equal(token + 1, hall[0].Commands[(int)CommandRole.Heartbeat].Value);
    }

    [Fact]
    public void Manual_mode_is_written_only_once_the_manual_output_reads_zero()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.Cabinets[0][CommandRole.ManualOutput] = 60;
        hall.Run();
        Assert.False(hall[0].Commands[(int)CommandRole.ManualMode].Write);
        Assert.True(hall[0].Commands[(int)CommandRole.ManualOutput] is { Write: true, Value: 0 });
        hall.Run();
        Assert.True(hall[0].Commands[(int)CommandRole.ManualMode] is { Write: true, DeEnergising: true, Value: 1 });
    }

    [Fact]
    public void An_energising_write_is_never_made_blindly()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating);
        Assert.True(hall[0].Commands[(int)CommandRole.Relay] is { Write: true, Value: 1 });
        hall.Cabinets[0].Link = ReadResult.Timeout;
        hall.Run(6);
        Assert.True(hall[0].Permit);
        Assert.False(hall[0].Commands[(int)CommandRole.Relay].Write);
    }

    [Fact]
    public void A_command_without_read_back_is_repeated_in_each_scan()
    {
        SiteTable site = TestSite.Of(TestSite.N1());
        UnitTable unit = site.Units[0];
        site = site with { Units = [unit with { Commands = [.. unit.Commands.Select(c => c with { ReadBack = null })] }] };
        var hall = new TestHall(site);
        hall.Run(100);
        Assert.True(hall[0].PowerProvedOff);
        Assert.True(hall[0].Commands[(int)CommandRole.Relay] is { Write: true, DeEnergising: true, Value: 0 });
    }

    [Fact]
    public void A_unit_without_a_stated_final_element_only_observes()
    {
        SiteTable site = TestSite.Of(TestSite.N1());
        site = site with { Units = [site.Units[0] with { FinalElement = FinalElementClass.None }] };
        var hall = new TestHall(site);
        hall.Run(40).Request(0, RequestKind.Reset).Run().Request(0, RequestKind.Start).Run();
        Assert.Equal(UnitState.Ready, hall[0].State);
        Assert.DoesNotContain(hall[0].Commands, c => c.Write);
    }

    [Trait("requirement", "SELF-1")]
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_broken_unit_removes_power_and_leaves_the_blower_to_a_cabinet_on_local(bool supervised)
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.Cabinets[0].Key = supervised;
        hall.Run(40);
        hall.BeforeStep = static h => h.Scan.Blocks[1].Words = new ushort[3]; // not the size of the site table
        hall.Run();
        Assert.Equal(FunctionState.Demand, hall[0].Functions[(int)FunctionId.Self].State);
        Assert.Equal(supervised, hall[0].Commands[(int)CommandRole.BlowerDemand].Write);
        Assert.True(hall[0].Commands[(int)CommandRole.Relay] is { Write: true, DeEnergising: true, Value: 0 });
    }
}
