using CsCheck;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>A forced value never outlives its expiry or a trip, never stands for a proof, and what it hides goes on being judged.</summary>
public sealed class ForceTests
{
    private const int ScansPerMinute = 600;

    [Trait("requirement", "FORC-1")]
    [Fact]
    public void What_the_site_marks_although_it_may_never_be_forced_stays_as_read()
    {
        SiteTable site = TestSite.Of(i => TestSite.N1()(i) with { Force = new ForceTable { Signals = [.. Enum.GetValues<SignalRole>().Select(r => new ForcibleSignal(r, 0, 1_000))] } });
        var hall = new TestHall(site);
        hall.BringTo(0, UnitState.Heating);
        SignalRole[] may =
        [
            SignalRole.ElementTemperature, SignalRole.OutletTemperature, SignalRole.InletTemperature, SignalRole.GasFlow,
            SignalRole.ElementTemperature2, SignalRole.ElementTemperature3, SignalRole.OutletTemperature2, SignalRole.OutletTemperature3,
            SignalRole.GasFlow2, SignalRole.GasFlow3, SignalRole.CurrentL1, SignalRole.CurrentL2, SignalRole.CurrentL3, SignalRole.EarthLeakage, SignalRole.Insulation,
        ];
        Assert.Equal(may.Order(), Enum.GetValues<SignalRole>().Where(SignalRoles.MayBeForced));
        foreach (SignalRole role in Enum.GetValues<SignalRole>())
        {
            hall.Force(0, role, 140, 5).Run(3);
            bool fitted = site.Units[0].Signals.Any(s => s.Role == role);
            Assert.Equal(may.Contains(role) && fitted, hall[0].Forced.Any(f => f.Active && f.Role == role));
            hall.Unforce(0, role).Run(3);
        }

        hall.Force(0, (SignalRole)200, 1, 5).Run(3).Unforce(0, (SignalRole)200).Run(3); // A number that no signal has is refused like any other.
        Assert.Equal(UnitState.Heating, hall[0].State);
    }

    [Trait("requirement", "FORC-2")]
    [Trait("requirement", "FORC-7")]
    [Fact]
    public void A_life_with_forces_stays_within_expiry_trip_and_the_signals_forced()
    {
        long forcedScans = 0;
        long endedByTrip = 0;
        HallScript.Gen(requests: true, forces: true).Sample(
            script =>
            {
                var hall = new TestHall(HallScript.Site());
                var judge = new Judge();
                hall.AfterStep = judge.Take;
                hall.BringTo(0, UnitState.Heating);
                script.Live(hall);
                forcedScans += judge.ForcedScans;
                endedByTrip += judge.EndedByTrip;
            },
            iter: 60,
            threads: 1);
        Assert.True(forcedScans > 5_000, "hardly any scan had a forced value");
        Assert.True(endedByTrip > 10, "hardly any force ended with a trip");
    }

    [Fact]
    public void A_force_counts_missed_scans_and_shows_the_time_left()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Ready).Force(0, SignalRole.InletTemperature, 30, 1).Run(2);
        Assert.Equal(60, hall[0].Forced[0].SecondsLeft);
        hall.Skip(590).Run();
        Assert.Equal((true, 1), (hall[0].Forced[0].Active, hall[0].Forced[0].SecondsLeft));
        hall.Run(9);
        Assert.False(hall[0].Forced[0].Active);
        Assert.Equal(40, hall[0].Image[SignalRole.InletTemperature].Value);
    }

    [Trait("requirement", "FORC-8")]
    [Fact]
    public void A_forced_value_says_so_and_the_real_one_stands_beside_it_with_its_own_status()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating).Force(0, SignalRole.OutletTemperature, 250.5, 15).Run(2);
        hall.Cabinets[0].Outlet = 9_999;
        hall.Run(20);
        SignalValue shown = hall[0].Image[SignalRole.OutletTemperature];
        Assert.Equal((250.5, 0x00960000u, true), (shown.Value, shown.Status, shown.IsGood)); // Good_LocalOverride: OPC Foundation, UA-Nodeset, Schema/StatusCode.csv
        Assert.Equal(StatusCode.BadSensorFailure, hall[0].RealOf(SignalRole.OutletTemperature).Status);
        Assert.Equal(StatusCode.Good, hall[0].RealOf(SignalRole.GasFlow).Status);
        Assert.Equal((FunctionState.Alarm, true), (hall[0].Functions[(int)FunctionId.Sens].State, hall[0].Functions[(int)FunctionId.Sens].ForcedDemand));
        Assert.Equal((1, 0), (hall[0].Counts[(int)FunctionId.Sens].ForcedDemands, hall[0].Counts[(int)FunctionId.Sens].Demands));
        Assert.Equal(UnitState.Heating, hall[0].State);
    }

    [Fact]
    public void Four_signals_can_be_forced_at_a_time_and_a_fifth_is_refused()
    {
        var hall = new TestHall(TestSite.Of(TestSite.X1()));
        hall.BringTo(0, UnitState.Ready);
        SignalRole[] roles = [SignalRole.InletTemperature, SignalRole.EarthLeakage, SignalRole.CurrentL1, SignalRole.CurrentL2];
        foreach (SignalRole role in roles)
        {
            hall.Force(0, role, 1, 5).Run(2);
        }

        Assert.All(hall[0].Forced, f => Assert.True(f.Active));
        Assert.Equal(RefusalReason.TooManyForced, Answer(hall.Force(0, SignalRole.GasFlow, 140, 5)).Reason);
        Assert.Equal(RefusalReason.None, Answer(hall.Force(0, SignalRole.EarthLeakage, 2, 5)).Reason);
        hall.Run(2);
        Assert.Equal(2, hall[0].Image[SignalRole.EarthLeakage].Value);
        hall.Unforce(0, SignalRole.CurrentL1).Run(2);
        Assert.Equal(RefusalReason.None, Answer(hall.Force(0, SignalRole.GasFlow, 140, 5)).Reason);
    }

    [Fact]
    public void A_second_request_replaces_value_and_expiry_only_when_it_is_durable()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Ready).Force(0, SignalRole.InletTemperature, 30, 1).Run(2);
        hall.DurableFollows = false;
        hall.Force(0, SignalRole.InletTemperature, 50, 15).Run(20);
        Assert.Equal(30, hall[0].Image[SignalRole.InletTemperature].Value);
        hall.Run(600);
        Assert.DoesNotContain(hall[0].Forced, f => f.Active);
        hall.DurableFollows = true;
        hall.Run(2);
        Assert.Equal(50, hall[0].Image[SignalRole.InletTemperature].Value);
        Assert.InRange(hall[0].Forced.Single(f => f.Active).SecondsLeft, 830, 840);
    }

    /// <summary>One of two forces ends: its own condition is judged with its whole history although the other goes on.</summary>
    [Trait("requirement", "FORC-4")]
    [Fact]
    public void The_end_of_one_force_of_several_brings_back_the_history_of_its_signal()
    {
        var hall = new TestHall(TestSite.Of(TestSite.N1()));
        hall.BringTo(0, UnitState.Heating).Force(0, SignalRole.OutletTemperature, 300, 15).Run(2).Force(0, SignalRole.GasFlow, 140, 15).Run(2);
        hall.Cabinets[0].Outlet = 9_999;
        hall.Run(30);
        Assert.Equal(UnitState.Heating, hall[0].State);
        hall.Unforce(0, SignalRole.OutletTemperature).Run();
        Assert.Equal(UnitState.Heating, hall[0].State);
        hall.Run();
        Assert.Equal((UnitState.Tripped, FunctionId.Sens), (hall[0].State, hall[0].FirstOut));
    }

    [Fact]
    public void A_force_beside_a_leak_or_lost_current_counts_what_they_demand()
    {
        var hall = new TestHall(TestSite.Of(TestSite.X1()));
        hall.BringTo(0, UnitState.Heating);
        hall.Cabinets[0].Power = 30;
        hall.Run(30);
        hall.Force(0, SignalRole.EarthLeakage, 1, 15).Run(2).Force(0, SignalRole.CurrentL1, 43.3, 15).Run(2); // 30 kW at 400 V
        hall.Cabinets[0].Further[SignalRole.EarthLeakage] = 20;
        hall.Cabinets[0].Further[SignalRole.CurrentL1] = 0;
        hall.Run(60);
        Assert.Equal(UnitState.Heating, hall[0].State);
        Assert.Equal((1, 1), (hall[0].Counts[(int)FunctionId.Leak].ForcedDemands, hall[0].Counts[(int)FunctionId.Phas].ForcedDemands));
        Assert.Equal((FunctionState.Alarm, FunctionState.Alarm), (hall[0].Functions[(int)FunctionId.Leak].State, hall[0].Functions[(int)FunctionId.Phas].State));
        hall.Unforce(0, SignalRole.CurrentL1).Run(2);
        Assert.Equal((UnitState.Tripped, FunctionId.Phas), (hall[0].State, hall[0].FirstOut));
    }

    [Fact]
    public void A_frozen_sensor_is_told_of_the_sensor_and_never_of_the_value_forced_in_its_place()
    {
        var hall = new TestHall(TestSite.Of(TestSite.F1()));
        hall.BringTo(0, UnitState.Heating);
        (hall.Cabinets[0].SlopeElement, hall.Cabinets[0].SlopeOutlet) = (1, 1);
        hall.Force(0, SignalRole.ElementTemperature, 300, 15).Run(50);
        hall.Cabinets[0].Power = 25;
        hall.Run(400);
        Assert.Equal((UnitState.Heating, 0), (hall[0].State, hall[0].Counts[(int)FunctionId.Sens].ForcedDemands));
        hall.Cabinets[0].SlopeElement = 0;
        hall.Run(50);
        hall.Cabinets[0].Power = 5;
        hall.Run(400);
        Assert.Equal((UnitState.Heating, 1), (hall[0].State, hall[0].Counts[(int)FunctionId.Sens].ForcedDemands));
    }

    private static GuardEvent Answer(TestHall hall)
    {
        hall.Run();
        return hall.Output.Events.Take(hall.Output.EventCount).Single(e => e.Id is EventId.RequestAccepted or EventId.RequestRefused);
    }

    /// <summary>Follows what was asked by the events and holds every scan against it; knows nothing of how the guard does it.</summary>
    private sealed class Judge
    {
        private readonly Dictionary<(int Unit, SignalRole Role), long> _ends = [];

        public long ForcedScans { get; private set; }

        public long EndedByTrip { get; private set; }

        public void Take(TestHall hall)
        {
            for (int unit = 0; unit < hall.Output.Units.Length; unit++)
            {
                Hold(hall, unit);
            }

            for (int i = 0; i < hall.Output.EventCount; i++)
            {
                Take(hall.Output.Events[i]);
            }
        }

        private void Hold(TestHall hall, int unit)
        {
            for (int role = 0; role < SignalRoles.Count; role++)
            {
                var signal = (SignalRole)role;
                bool forced = hall[unit].Image[signal].Status == StatusCode.GoodLocalOverride;
                Assert.Equal(forced, hall[unit].Forced.Any(f => f.Active && f.Role == signal));
                Assert.False(forced && !(_ends.TryGetValue((unit, signal), out long end) && hall.Scan.Scan < end), $"{signal} forced beyond its end");
                ForcedScans += forced ? 1 : 0;
            }

            // A permit is given on what is real only.
            bool granted = Events(hall).Any(e => e.Unit == unit && e.Id == EventId.PermitGranted);
            Assert.False(granted && hall[unit].Forced.Any(f => f.Active), "a permit beside a forced value");
            bool proved = Events(hall).Any(e => e.Unit == unit && e.Id == EventId.FlowProved);
            Assert.False(proved && !(hall[unit].RealOf(SignalRole.GasFlow) is { IsGood: true, Value: >= 130 }), "flow proved without a real flow");
            bool seen = Events(hall).Any(e => e.Unit == unit && e.Id == EventId.FlowZeroSeen);
            Assert.False(seen && !(hall[unit].RealOf(SignalRole.GasFlow) is { IsGood: true, Value: < 70 }), "flow seen at zero without a real flow");
            bool tripped = Events(hall).Any(e => e.Unit == unit && e.Id == EventId.Trip);
            foreach (SignalRole signal in _ends.Keys.Where(k => tripped && k.Unit == unit).Select(k => k.Role).ToArray())
            {
                _ends.Remove((unit, signal));
            }
        }

        private void Take(GuardEvent e)
        {
            (int, SignalRole) key = (e.Unit, (SignalRole)(e.Detail & 0xFF));
            switch (e.Id)
            {
                case EventId.ForceBegun: _ends[key] = Math.Max(_ends.GetValueOrDefault(key), e.Scan + ((e.Detail >> 8) * ScansPerMinute)); break;
                case EventId.ForceEnded: _ends.Remove(key); break;
                case EventId.ForceExpired when _ends.GetValueOrDefault(key) <= e.Scan: _ends.Remove(key); break; // else a later one waits to be durable
                case EventId.ForceEndedByTrip: _ends.Remove(key); EndedByTrip++; break;
                default: break;
            }
        }

        private static IEnumerable<GuardEvent> Events(TestHall hall) => hall.Output.Events.Take(hall.Output.EventCount);
    }
}
