using CsCheck;
using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Tests.Interlocks;

namespace EdgeGuard.Core.Tests.Alarms;

/// <summary>What people may hide of the alarms of a unit, through Guard.Step.</summary>
public sealed class ShelvingTests
{
    private const int ScansPerMinute = 600;

    private static readonly ShelfTable Everything = new() { OutOfService = true, MaxMinutes = 60, Marked = Enum.GetValues<FunctionId>() };

    // Which alarms may be hidden stands here once more, apart from the code.
    private static readonly FunctionId[] AlarmOnly = [FunctionId.Cool, FunctionId.Heat, FunctionId.Aftc, FunctionId.Dmnd];
    private static readonly FunctionId[] Never = [FunctionId.Resd, FunctionId.Self, FunctionId.Jrnl];
    private static readonly FunctionId[] NoAlarm = [FunctionId.Start, FunctionId.Stop, (FunctionId)FunctionIds.Count, (FunctionId)200];

    [Trait("requirement", "ALRM-2")]
    [Fact]
    public void Each_alarm_is_shelved_or_not_as_the_site_and_the_kind_of_alarm_say()
    {
        foreach (ShelfTable table in new[] { new ShelfTable(), Everything, Everything with { Marked = [] }, new ShelfTable { MaxMinutes = 0 } })
        {
            for (int id = 0; id <= FunctionIds.Count; id++)
            {
                foreach (RequestKind kind in new[] { RequestKind.Shelve, RequestKind.RemoveFromService })
                {
                    var alarm = (FunctionId)id;
                    TestHall hall = Ready(table);
                    RefusalReason expected = NoAlarm.Contains(alarm) ? RefusalReason.NoSuchAlarm
                        : kind == RequestKind.RemoveFromService && !table.OutOfService ? RefusalReason.OutOfServiceOff
                        : !AlarmOnly.Contains(alarm) && (table.Marked.Count == 0 || Never.Contains(alarm)) ? RefusalReason.AlarmOfTrip
                        : kind == RequestKind.Shelve && table.MaxMinutes == 0 ? RefusalReason.ShelvingTime
                        : RefusalReason.None;
                    Assert.Equal(expected, Ask(hall, kind, alarm, kind == RequestKind.Shelve ? (ushort)30 : (ushort)0));
                    AlarmState after = expected != RefusalReason.None ? AlarmState.Normal : kind == RequestKind.Shelve ? AlarmState.Shelved : AlarmState.OutOfService;
                    Assert.True(id >= FunctionIds.Count || hall[0].Alarms[id].State == after, $"{kind} {alarm}: {(id < FunctionIds.Count ? hall[0].Alarms[id].State : default)}");
                }
            }
        }
    }

    [Trait("requirement", "ALRM-2")]
    [Fact]
    public void The_shelf_ends_by_nominal_scans_and_is_told_when_it_begins_and_ends()
    {
        TestHall hall = Ready(new ShelfTable());
        Assert.Equal(RefusalReason.None, Ask(hall, RequestKind.Shelve, FunctionId.Heat, 2));
        Assert.Equal((1L, 120), (Count(hall, EventId.AlarmShelved), hall[0].Alarms[(int)FunctionId.Heat].ShelfSecondsLeft));
        hall.Skip((2 * ScansPerMinute) - 11).Run(); // 1189 missed and one more.
        Assert.Equal((AlarmState.Shelved, 1), (hall[0].Alarms[(int)FunctionId.Heat].State, hall[0].Alarms[(int)FunctionId.Heat].ShelfSecondsLeft));
        hall.Run(10);
        Assert.Equal(AlarmState.Shelved, hall[0].Alarms[(int)FunctionId.Heat].State);
        hall.Run();
        Assert.Equal((AlarmState.Normal, 1L), (hall[0].Alarms[(int)FunctionId.Heat].State, Count(hall, EventId.AlarmShelvingExpired)));
        hall.Run(5);
        Assert.Equal(0, Count(hall, EventId.AlarmShelvingExpired));
    }

    [Trait("requirement", "ALRM-2")]
    [Theory]
    [InlineData(0, RefusalReason.ShelvingTime)]
    [InlineData(1, RefusalReason.None)]
    [InlineData(480, RefusalReason.None)] // the default of the site file
    [InlineData(481, RefusalReason.ShelvingTime)]
    public void The_time_on_the_shelf_is_bounded_by_the_site(int minutes, RefusalReason expected) =>
        Assert.Equal(expected, Ask(Ready(new ShelfTable()), RequestKind.Shelve, FunctionId.Cool, (ushort)minutes));

    [Trait("requirement", "ALRM-5")]
    [Fact]
    public void What_is_hidden_needs_a_healthy_journal_and_what_is_shown_again_does_not()
    {
        TestHall hall = Ready(Everything);
        Ask(hall, RequestKind.Shelve, FunctionId.Cool, 10);
        Ask(hall, RequestKind.RemoveFromService, FunctionId.Heat, 0);
        hall.Scan.Journal = JournalHealth.Failing;
        Assert.Equal(RefusalReason.JournalNotHealthy, Ask(hall, RequestKind.Shelve, FunctionId.Aftc, 10));
        Assert.Equal(RefusalReason.JournalNotHealthy, Ask(hall, RequestKind.RemoveFromService, FunctionId.Aftc, 0));
        Assert.Equal(RefusalReason.None, Ask(hall, RequestKind.Unshelve, FunctionId.Cool, 0));
        Assert.Equal(1, Count(hall, EventId.AlarmUnshelved));
        Assert.Equal(RefusalReason.None, Ask(hall, RequestKind.ReturnToService, FunctionId.Heat, 0));
        Assert.Equal(1, Count(hall, EventId.AlarmReturnedToService));
        Assert.Equal(RefusalReason.AlarmState, Ask(hall, RequestKind.Unshelve, FunctionId.Cool, 0));
        Assert.Equal(RefusalReason.AlarmState, Ask(hall, RequestKind.ReturnToService, FunctionId.Heat, 0));
    }

    [Fact]
    public void An_alarm_on_the_shelf_is_told_only_when_it_comes_back()
    {
        TestHall hall = Ready(new ShelfTable());
        Ask(hall, RequestKind.Shelve, FunctionId.Heat, 1);
        int heard = 0;
        hall.AfterStep = h => heard += h[0].Alarms[(int)FunctionId.Heat].JustAnnunciated ? 1 : 0;
        hall.Cabinets[0].SlopeElement = 200; // 120 K/min is its limit.
        hall.Run(500);
        Assert.Equal((0, true), (heard, hall[0].Alarms[(int)FunctionId.Heat].Condition));
        hall.Run(101);
        Assert.Equal((1, AlarmState.Unacknowledged), (heard, hall[0].Alarms[(int)FunctionId.Heat].State));
        hall.Request(0, RequestKind.Acknowledge).Run();
        Assert.Equal(AlarmState.Acknowledged, hall[0].Alarms[(int)FunctionId.Heat].State);
    }

    // All shelves of a unit can end in one scan, and events of a unit have a bound whose breach trips it. They come, perhaps later.
    [Trait("requirement", "ALRM-6")]
    [Fact]
    public void Shelves_that_all_end_in_the_scan_of_a_trip_break_nothing_and_are_all_told()
    {
        TestHall hall = Ready(Everything);
        FunctionId[] all = [.. Enumerable.Range(0, FunctionIds.Count).Select(i => (FunctionId)i).Where(Everything.MayHide)];
        foreach (FunctionId alarm in all)
        {
            // Each a minute shorter and a minute later than the one before would; all end together.
            Assert.Equal(RefusalReason.None, Ask(hall, RequestKind.Shelve, alarm, (ushort)(all.Length - Array.IndexOf(all, alarm))));
            hall.Run(ScansPerMinute - 1);
        }

        long told = 0;
        hall.AfterStep = h => told += Count(h, EventId.AlarmShelvingExpired);
        hall.Cabinets[0].Chain = false;
        hall.Cabinets[0].Element = 9_999;
        hall.Cabinets[0].Key = false;
        hall.Run(4);
        Assert.Equal((UnitState.Tripped, FunctionId.Hard), (hall[0].State, hall[0].FirstOut));
        Assert.Equal(all.Length, told);
        Assert.NotEqual(FunctionState.Demand, hall[0].Functions[(int)FunctionId.Self].State);
    }

    // What is hidden is hidden from people only: the same scans with and without any number of requests about alarms give
    // the same verdicts, states, counters, commands and events, bit for bit.
    [Trait("requirement", "ALRM-6")]
    [Fact]
    public void Nothing_that_is_asked_about_alarms_alters_a_decision()
    {
        int accepted = 0, refused = 0, hidden = 0;
        Gen.Select(HallScript.Gen(requests: true), Gen.Int[0, 1_000_000]).Sample(
            (script, seed) =>
            {
                SiteTable site = HallScript.Site();
                site = site with { Units = [.. site.Units.Select(u => u with { Shelf = Everything })] };
                List<long> plain = Trace(site, script, null);
                var random = new Random(seed);
                List<long> asked = Trace(site, script, h =>
                {
                    Ask(h, random);
                    for (int i = 0; i < FunctionIds.Count; i++)
                    {
                        hidden += h[0].Alarms[i] is { State: AlarmState.Shelved or AlarmState.OutOfService, Condition: true } ? 1 : 0;
                    }
                }, h =>
                {
                    accepted += (int)(Count(h, EventId.AlarmShelved) + Count(h, EventId.AlarmRemovedFromService));
                    refused += (int)Count(h, EventId.RequestRefused);
                });
                Assert.Equal(plain, asked);
            },
            iter: 150,
            threads: 1);
        Assert.True(accepted > 1_000 && refused > 1_000 && hidden > 1_000, $"hardly anything was hidden: {accepted}, {refused}, {hidden}");
    }

    private static void Ask(TestHall hall, Random random)
    {
        for (int unit = 0; unit < hall.Site.Units.Count; unit++)
        {
            if (hall.Scan.Requests[unit].Kind == RequestKind.None && random.Next(4) == 0)
            {
                hall.Scan.Requests[unit] = new OperatorRequest
                {
                    Kind = (RequestKind)random.Next((int)RequestKind.Shelve, (int)RequestKind.ReturnToService + 1),
                    Id = 1_000_000 + hall.Scan.Scan,
                    Function = (FunctionId)random.Next(FunctionIds.Count + 2),
                    Minutes = (ushort)random.Next(62),
                };
            }
        }
    }

    private static List<long> Trace(SiteTable site, HallScript script, Action<TestHall>? before, Action<TestHall>? after = null)
    {
        var hall = new TestHall(site) { BeforeStep = before };
        var scans = new List<long>();
        hall.AfterStep = h =>
        {
            scans.Add(Digest(h));
            after?.Invoke(h);
        };
        hall.BringTo(0, UnitState.Heating);
        script.Live(hall);
        return scans;
    }

    /// <summary>Of everything decided in a scan; of the events all that is not an answer to a request or about an alarm that is hidden.</summary>
    private static long Digest(TestHall hall)
    {
        long digest = 17;
        void Add(long value) => digest = unchecked((digest * 1_099_511_628_211) ^ value);
        void AddReal(double value) => Add(BitConverter.DoubleToInt64Bits(value));
        void AddFlag(bool value) => Add(value ? 1 : 2);
        foreach (UnitDecision unit in hall.Output.Units)
        {
            Add((long)unit.State);
            Add((long)unit.FirstOut);
            AddFlag(unit.Permit);
            AddFlag(unit.PendingDurable);
            AddFlag(unit.RampHeld);
            AddFlag(unit.PowerProvedOff);
            AddReal(unit.LedSetpointC);
            AddReal(unit.ElementSlopeKPerMin);
            AddReal(unit.CoolSlopeKPerMin);
            Add(unit.TripCount);
            Add(unit.FunctionsEvaluated);
            for (int i = 0; i < FunctionIds.Count; i++)
            {
                ref FunctionStatus f = ref unit.Functions[i];
                Add((long)f.State);
                Add((long)f.Reaction);
                Add((long)f.Finding);
                AddReal(f.Value);
                AddReal(f.Limit);
                Add(f.SinceScan);
                Add(unit.Counts[i].Demands);
                Add(unit.Counts[i].Trips);
            }

            foreach (CommandDecision command in unit.Commands)
            {
                AddReal(command.Value);
                AddFlag(command.Write);
                AddFlag(command.DeEnergising);
            }
        }

        for (int i = 0; i < hall.Output.EventCount; i++)
        {
            ref GuardEvent e = ref hall.Output.Events[i];
            if (e.Id is not (EventId.RequestAccepted or EventId.RequestRefused or (>= EventId.AlarmShelved and <= EventId.AlarmSuppressionEnded)))
            {
                Add((long)e.Id);
                Add(e.Unit);
                Add((long)e.Function);
                AddReal(e.Value);
                AddReal(e.Limit);
                Add(e.Detail);
            }
        }

        return digest;
    }

    private static TestHall Ready(ShelfTable table) => new TestHall(TestSite.Of(i => TestSite.N1()(i) with { Shelf = table })).BringTo(0, UnitState.Ready);

    private static RefusalReason Ask(TestHall hall, RequestKind kind, FunctionId alarm, ushort minutes)
    {
        hall.Request(0, kind, alarm, minutes).Run();
        return hall.Output.Events.Take(hall.Output.EventCount).Single(e => e.Id is EventId.RequestAccepted or EventId.RequestRefused).Reason;
    }

    private static long Count(TestHall hall, EventId id)
    {
        long count = 0;
        for (int i = 0; i < hall.Output.EventCount; i++)
        {
            count += hall.Output.Events[i].Id == id ? 1 : 0;
        }

        return count;
    }
}
