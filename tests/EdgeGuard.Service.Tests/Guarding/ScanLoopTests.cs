using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>The order of effects, the stop and the broken loop, seen through recording ports.</summary>
public sealed class ScanLoopTests
{
    private static readonly SiteTable Site = GuardSites.Table();

    [Trait("requirement", "ORDR-1")]
    [Fact]
    public void Effects_come_in_the_documented_order()
    {
        var log = new EffectLog(scansMax: 1) { OnStep = static (_, output) => MixedDecision(output) };
        log.Loop(Site).Run();
        Assert.Equal(
            [
                "fill", "requests", "step",
                "remove 0 Relay 0", "remove 1 Heartbeat 0", "wake",
                "event Trip", "event RequestAccepted", "decided 77",
                "energise 0 BlowerDemand 80", "energise 1 Setpoint 650", "wake",
                "copy", "done",
            ],
            log.Calls);
    }

    [Fact]
    public void Journal_state_is_an_input_of_the_scan()
    {
        var log = new EffectLog(scansMax: 2) { DurableEvent = 41, Health = JournalHealth.Failing };
        log.OnStep = (scan, _) =>
        {
            log.Calls.Add($"{scan.Scan} {scan.DurableEvent} {scan.Journal}");
            log.DurableEvent++;
            log.Health = JournalHealth.Healthy;
        };
        log.Loop(Site).Run();
        Assert.Contains("0 41 Failing", log.Calls);
        Assert.Contains("1 42 Healthy", log.Calls);
    }

    [Fact]
    public void A_stop_is_a_request_to_every_unit_and_ends_when_all_removals_are_confirmed()
    {
        var log = new EffectLog { OnFill = static scan => Relay(scan) = scan.Scan >= 6 ? CommandFeedback.Confirmed : CommandFeedback.Outstanding };
        ScanLoop loop = log.Loop(Site);
        var requested = new List<string>();
        log.OnStep = (scan, output) =>
        {
            Collect(scan, requested);
            RemoveByRelay(output);
        };
        loop.AskStop();
        loop.Run();
        Assert.Equal(["0 Stop 1", "0 Stop 2"], requested);
        Assert.True(loop.StoppedConfirmed);
        Assert.Equal(7, log.Calls.Count(c => c == "step"));
        Assert.DoesNotContain("requests", log.Calls); // a start of the last moment is not taken any more
        Assert.Null(loop.Broken);
    }

    [Theory]
    [InlineData(true, CommandFeedback.Confirmed)]
    [InlineData(false, CommandFeedback.Outstanding)]
    [InlineData(false, CommandFeedback.Failed)]
    [InlineData(false, CommandFeedback.None)]
    public void A_stop_without_confirmation_ends_at_its_limit_and_says_so(bool permit, CommandFeedback feedback)
    {
        var log = new EffectLog { OnFill = scan => Relay(scan) = feedback };
        log.OnStep = (_, output) =>
        {
            RemoveByRelay(output);
            OutputAccess.SetPermit(output.Units[1], permit);
        };
        ScanLoop loop = log.Loop(Site, stopLimitMs: 1000);
        loop.AskStop();
        loop.Run();
        Assert.False(loop.StoppedConfirmed);
        Assert.Equal(10, log.Calls.Count(c => c == "step"));
    }

    [Fact]
    public void A_broken_loop_offers_removal_by_every_path_of_every_enforced_unit_and_ends()
    {
        SiteTable mixed = Site with { Units = [Site.Units[0], Site.Units[1] with { Mode = UnitMode.Observe }, Site.Units[1] with { FinalElement = FinalElementClass.None }] };
        var log = new EffectLog { OnStep = static (scan, _) => throw new InvalidOperationException("injected in scan " + scan.Scan) };
        ScanLoop loop = log.Loop(mixed);
        loop.Run();
        Assert.Equal("injected in scan 0", loop.Broken?.Message);
        string[] offered = [.. log.Calls.SkipWhile(c => c != "step").Skip(1)];
        Assert.Equal("wake", offered[^1]);
        Assert.Equal(
            ["remove 0 Enable 0", "remove 0 Heartbeat 0", "remove 0 ManualMode 1", "remove 0 ManualOutput 0", "remove 0 Relay 0", $"remove 0 Setpoint {Site.Units[0].TripSetpointC:0}"],
            offered[..^1].Order(StringComparer.Ordinal));
        Assert.DoesNotContain(log.Calls, c => c.StartsWith("remove 1", StringComparison.Ordinal) || c.StartsWith("remove 2", StringComparison.Ordinal));
    }

    [Trait("requirement", "ALLO-1")]
    [Fact]
    public void A_scan_allocates_nothing()
    {
        var silent = new SilentPorts(scansMax: 5_000);
        var loop = new ScanLoop(Site, silent.Ports(new CoreStep(Site), Site));
        long before = 0;
        silent.OnScan = scan => before = scan == 100 ? GC.GetAllocatedBytesForCurrentThread() : before;
        loop.Run();
        Assert.Null(loop.Broken);
        Assert.Equal(0, silent.AllocatedAtEnd - before);
        Assert.True(before > 0);
    }

    private static ref CommandFeedback Relay(RawScan scan) => ref scan.Feedback[(int)CommandRole.Relay];

    private static void RemoveByRelay(ScanOutput output) =>
        output.Units[0].Commands[(int)CommandRole.Relay] = new CommandDecision { Write = true, DeEnergising = true };

    private static void MixedDecision(ScanOutput output)
    {
        output.Units[0].Commands[(int)CommandRole.BlowerDemand] = new CommandDecision { Value = 80, Write = true };
        output.Units[0].Commands[(int)CommandRole.Relay] = new CommandDecision { Write = true, DeEnergising = true };
        output.Units[0].Commands[(int)CommandRole.Enable] = new CommandDecision { Value = 1 };
        output.Units[1].Commands[(int)CommandRole.Setpoint] = new CommandDecision { Value = 650, Write = true };
        output.Units[1].Commands[(int)CommandRole.Heartbeat] = new CommandDecision { Write = true, DeEnergising = true };
        output.Events[0] = new GuardEvent { Id = EventId.Trip };
        output.Events[1] = new GuardEvent { Id = EventId.RequestAccepted, Detail = 77 };
        OutputAccess.SetEventCount(output, 2);
    }

    private static void Collect(RawScan scan, List<string> requested)
    {
        foreach (OperatorRequest request in scan.Requests)
        {
            if (request.Kind != RequestKind.None)
            {
                requested.Add($"{scan.Scan} {request.Kind} {request.Id}");
            }
        }
    }
}
