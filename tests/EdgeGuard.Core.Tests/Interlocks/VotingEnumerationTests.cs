using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>
/// Voting × quality × bypass × latch in full: every vote, every combination of a good, a demanding and a lost reading
/// of its sensors, with nothing, the limit, SENS or both bypassed, the first sensor as read, forced calm or forced to demand,
/// on a unit that heats and on one that is latched.
/// What must come of it is counted here in votes, as the reference page says it, and not by choosing a value.
/// </summary>
public sealed class VotingEnumerationTests
{
    private const int Calm = 0;
    private const int Demanding = 1;
    private const int Lost = 2;

    private static readonly SignalRole[] Elements = [SignalRole.ElementTemperature, SignalRole.ElementTemperature2, SignalRole.ElementTemperature3];
    private static readonly SignalRole[] Outlets = [SignalRole.OutletTemperature, SignalRole.OutletTemperature2, SignalRole.OutletTemperature3];
    private static readonly SignalRole[] Flows = [SignalRole.GasFlow, SignalRole.GasFlow2, SignalRole.GasFlow3];

    public static TheoryData<VotingScheme> Schemes() => [.. Enum.GetValues<VotingScheme>()];

    public static TheoryData<VotingScheme, FunctionId> SchemesOfLimits() =>
        new(Enum.GetValues<VotingScheme>().SelectMany(s => new[] { FunctionId.Elem, FunctionId.Outl, FunctionId.Flow }.Select(f => (s, f))));

    [Trait("requirement", "SENS-2")]
    [Trait("requirement", "BYPS-6")]
    [Trait("requirement", "FORC-4")]
    [Theory]
    [MemberData(nameof(Schemes))]
    public void A_heating_unit_with_redundant_element_sensors(VotingScheme scheme)
    {
        int cases = 0;
        foreach ((int[] sensors, bool limit, bool sens, int forced) in Cases(scheme))
        {
            TestHall hall = Heating(scheme, limit ? FunctionId.Elem : FunctionId.None, sens);
            Force(hall, SignalRole.ElementTemperature, forced, 600, 870);
            Set(hall, Elements, sensors, 600, 870, 9_999);
            hall.Run(15);
            int[] judged = Judged(sensors, forced);
            string what = $"{scheme} [{string.Join(',', sensors)}] limit {limit} sens {sens} forced {forced}";
            (UnitState state, FunctionId cause) = Expected(scheme, judged, limit, sens, FunctionId.Elem);
            Assert.True((state, cause) == (hall[0].State, hall[0].FirstOut), $"{what}: {hall[0].State} {hall[0].FirstOut}, expected {state} {cause}");
            if (state == UnitState.Heating)
            {
                // A demand that stays in force under a bypass is counted there and not here.
                Assert.True(TakenAway(Demands(scheme, sensors), Demands(scheme, judged)) == hall[0].Functions[(int)FunctionId.Elem].ForcedDemand, what);
                bool milder = TakenAway(IsLost(scheme, sensors), IsLost(scheme, judged)); // a removal of which a controlled shutdown is left
                Assert.True((milder || TakenAway(IsShutDown(scheme, sensors), IsShutDown(scheme, judged))) == hall[0].Functions[(int)FunctionId.Sens].ForcedDemand, what);
            }

            cases++;
        }

        Assert.Equal(12 * (int)Math.Pow(3, Sensors(scheme)), cases);
    }

    [Theory]
    [MemberData(nameof(Schemes))]
    public void A_heating_unit_with_redundant_outlet_sensors(VotingScheme scheme)
    {
        foreach ((int[] sensors, bool limit, bool sens, int forced) in Cases(scheme))
        {
            TestHall hall = Heating(scheme, limit ? FunctionId.Outl : FunctionId.None, sens);
            Force(hall, SignalRole.OutletTemperature, forced, 400, 800);
            Set(hall, Outlets, sensors, 400, 800, 9_999);
            hall.Run(15);
            (UnitState state, FunctionId cause) = Expected(scheme, Judged(sensors, forced), limit, sens, FunctionId.Outl);
            Assert.True((state, cause) == (hall[0].State, hall[0].FirstOut), $"{scheme} [{string.Join(',', sensors)}] limit {limit} sens {sens} forced {forced}: {hall[0].State} {hall[0].FirstOut}, expected {state} {cause}");
        }
    }

    [Theory]
    [MemberData(nameof(Schemes))]
    public void A_heating_unit_with_redundant_flow_meters(VotingScheme scheme)
    {
        foreach ((int[] sensors, bool limit, bool sens, int forced) in Cases(scheme))
        {
            TestHall hall = Heating(scheme, limit ? FunctionId.Flow : FunctionId.None, sens);
            Force(hall, SignalRole.GasFlow, forced, 140, 40);
            Set(hall, Flows, sensors, 140, 40, 2_000);
            hall.Run(15);
            (UnitState state, FunctionId cause) = Expected(scheme, Judged(sensors, forced), limit, sens, FunctionId.Flow);
            Assert.True((state, cause) == (hall[0].State, hall[0].FirstOut), $"{scheme} [{string.Join(',', sensors)}] limit {limit} sens {sens} forced {forced}: {hall[0].State} {hall[0].FirstOut}, expected {state} {cause}");
        }
    }

    [Theory]
    [MemberData(nameof(SchemesOfLimits))]
    public void A_latched_unit_is_reset_only_when_no_vote_that_is_not_bypassed_stands_against_it(VotingScheme scheme, FunctionId function)
    {
        foreach ((int[] sensors, bool limit, bool sens, int forced) in Cases(scheme))
        {
            TestHall hall = Heating(scheme, limit ? function : FunctionId.None, sens);
            hall.Cabinets[0].Chain = false;
            hall.Run(2);
            hall.Cabinets[0].Chain = true;
            (SignalRole role, double calm, double demanding) = Readings(function);
            Force(hall, role, forced, calm, demanding); // while tripped: a force of before has ended with the trip
            Set(hall, function, sensors);
            hall.Run(30);
            Assert.Equal((UnitState.Tripped, FunctionId.Hard), (hall[0].State, hall[0].FirstOut));
            hall.Request(0, RequestKind.Reset).Run();
            int[] judged = Judged(sensors, forced);
            bool against = (!limit && (Demands(scheme, judged) || IsLost(scheme, judged))) || (!sens && IsLost(scheme, judged));
            Assert.True(against == (hall[0].State == UnitState.Tripped), $"{scheme} [{string.Join(',', sensors)}] limit {limit} sens {sens} forced {forced}: {hall[0].State}");
        }
    }

    [Fact]
    public void The_voted_value_is_the_second_worst_of_three_in_every_order()
    {
        double[] values = [500, 600, 700];
        foreach (int[] order in new int[][] { [0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0] })
        {
            SignalValue[] s = [.. order.Select(i => new SignalValue { Value = values[i], Known = true })];
            Assert.Equal(600, RoleVoter.Choose(VotingScheme.TwoOutOfThree, tripsHigh: true, s[0], s[1], s[2]).Value);
            Assert.Equal(600, RoleVoter.Choose(VotingScheme.TwoOutOfThree, tripsHigh: false, s[0], s[1], s[2]).Value);
        }
    }

    private static int Sensors(VotingScheme scheme) => scheme switch
    {
        VotingScheme.OneOutOfOne => 1,
        VotingScheme.TwoOutOfThree => 3,
        _ => 2,
    };

    private static IEnumerable<(int[] Sensors, bool Limit, bool Sens, int Forced)> Cases(VotingScheme scheme)
    {
        int n = Sensors(scheme);
        for (int code = 0; code < Math.Pow(3, n) * 12; code++)
        {
            int rest = code / 12;
            int[] sensors = new int[n];
            for (int i = 0; i < n; i++)
            {
                sensors[i] = rest % 3;
                rest /= 3;
            }

            yield return (sensors, (code & 1) != 0, (code & 2) != 0, code / 4 % 3);
        }
    }

    /// <summary>The readings that are judged: the first sensor as it is forced, 1 calm, 2 demanding.</summary>
    private static int[] Judged(int[] sensors, int forced) => forced == 0 ? sensors : [forced == 1 ? Calm : Demanding, .. sensors[1..]];

    private static bool TakenAway(bool real, bool judged) => real && !judged;

    /// <summary>SENS demands: removal with too few sensors, a controlled shutdown for a lost one of two of which one is enough.</summary>
    private static bool IsShutDown(VotingScheme scheme, int[] sensors) =>
        IsLost(scheme, sensors) || (scheme == VotingScheme.OneOutOfTwo && sensors.Contains(Lost));

    private static void Force(TestHall hall, SignalRole role, int forced, double calm, double demanding)
    {
        if (forced != 0)
        {
            hall.Force(0, role, forced == 1 ? calm : demanding, 10).Run(2);
            Assert.True(hall[0].Forced[0].Active);
        }
    }

    /// <summary>Too few good sensors to decide.</summary>
    private static bool IsLost(VotingScheme scheme, int[] sensors)
    {
        int lost = sensors.Count(s => s == Lost);
        return scheme == VotingScheme.TwoOutOfThree ? lost >= 2 : lost == sensors.Length;
    }

    /// <summary>Enough votes: a lost sensor votes to trip, but for 1oo2, where its loss has a reaction of its own.</summary>
    private static bool Demands(VotingScheme scheme, int[] sensors)
    {
        int demanding = sensors.Count(s => s == Demanding);
        int votes = scheme == VotingScheme.OneOutOfTwo ? demanding : demanding + sensors.Count(s => s == Lost);
        int needed = scheme is VotingScheme.TwoOutOfTwo or VotingScheme.TwoOutOfThree ? 2 : 1;
        return !IsLost(scheme, sensors) && votes >= needed;
    }

    private static (UnitState State, FunctionId Cause) Expected(VotingScheme scheme, int[] sensors, bool limitBypassed, bool sensBypassed, FunctionId limit)
    {
        bool lost = IsLost(scheme, sensors);
        if (Demands(scheme, sensors) && !limitBypassed)
        {
            return (UnitState.Tripped, limit);
        }

        if (lost && limit == FunctionId.Flow && !limitBypassed)
        {
            return (UnitState.Tripped, FunctionId.Flow); // no flow signal is no flow
        }

        if (lost && !(sensBypassed && limitBypassed))
        {
            return (UnitState.Tripped, sensBypassed ? limit : limitBypassed || limit != FunctionId.Flow ? FunctionId.Sens : limit);
        }

        bool oneLost = !lost && sensors.Contains(Lost);
        bool shutsDown = oneLost && scheme == VotingScheme.OneOutOfTwo && !sensBypassed;
        return (shutsDown ? UnitState.LedCooldown : UnitState.Heating, FunctionId.None);
    }

    private static TestHall Heating(VotingScheme scheme, FunctionId bypassed, bool sensBypassed)
    {
        SiteTable site = TestSite.Of(i =>
        {
            UnitTable x1 = TestSite.X1(scheme == VotingScheme.OneOutOfOne ? VotingScheme.OneOutOfTwo : scheme)(i);
            return x1 with
            {
                Voting = scheme == VotingScheme.OneOutOfOne ? [] : x1.Voting,
                Flow = TestSite.N1()(i).Flow with { PreFlowMs = 1_000, HotPreFlowMs = 1_000 },
                Bala = null,
                Cool = x1.Cool with { AfterCoolingBelowC = 50 },
            };
        });
        var hall = new TestHall(site);
        hall.BringTo(0, UnitState.Heating);
        hall.Cabinets[0].Element = 600;
        hall.Cabinets[0].Outlet = 400;
        hall.Run(300);
        Bypass(hall, bypassed);
        Bypass(hall, sensBypassed ? FunctionId.Sens : FunctionId.None);
        Assert.Equal(UnitState.Heating, hall[0].State);
        return hall;
    }

    private static void Bypass(TestHall hall, FunctionId function)
    {
        if (function != FunctionId.None)
        {
            hall.Request(0, RequestKind.Bypass, function, 10).Run(2);
            Assert.True(hall[0].Functions[(int)function].Bypassed);
        }
    }

    private static void Set(TestHall hall, FunctionId function, int[] sensors)
    {
        (SignalRole role, double calm, double demanding) = Readings(function);
        SignalRole[] roles = role == SignalRole.GasFlow ? Flows : role == SignalRole.OutletTemperature ? Outlets : Elements;
        Set(hall, roles, sensors, calm, demanding, 9_999);
    }

    /// <summary>40 kg/h is below the after-cooling flow too.</summary>
    private static (SignalRole Role, double Calm, double Demanding) Readings(FunctionId function) => function switch
    {
        FunctionId.Elem => (SignalRole.ElementTemperature, 600, 870),
        FunctionId.Outl => (SignalRole.OutletTemperature, 400, 800),
        _ => (SignalRole.GasFlow, 140, 40),
    };

    private static void Set(TestHall hall, SignalRole[] roles, int[] sensors, double calm, double demanding, double lost)
    {
        double Reading(int i) => (i < sensors.Length ? sensors[i] : Calm) switch { Demanding => demanding, Lost => lost, _ => calm };
        if (roles[0] == SignalRole.ElementTemperature)
        {
            hall.Cabinets[0].Element = Reading(0);
        }
        else if (roles[0] == SignalRole.OutletTemperature)
        {
            hall.Cabinets[0].Outlet = Reading(0);
        }
        else
        {
            hall.Cabinets[0].Flow = Reading(0);
        }

        hall.Cabinets[0].Further[roles[1]] = Reading(1);
        hall.Cabinets[0].Further[roles[2]] = Reading(2);
    }
}
