using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Core.Tests.Interlocks;

public sealed class BlindWatchTests
{
    [Theory]
    [InlineData(FunctionId.Flow, 5)] // its own delay, 500 ms
    [InlineData(FunctionId.Elem, 10)] // the delay of SENS, 1000 ms
    [InlineData(FunctionId.Cmdv, 10)]
    public void A_permit_beside_a_function_that_cannot_judge_breaks_the_promise_one_scan_after_its_delay(FunctionId id, int delayScans)
    {
        (UnitMemory unit, FunctionStatus[] verdicts) = Permitted();
        var watch = new BlindWatch();
        verdicts[(int)id].State = FunctionState.NotGood;
        for (; unit.Scan <= delayScans; unit.Scan++)
        {
            Assert.True(watch.Holds(unit, verdicts), $"scan {unit.Scan}");
        }

        Assert.False(watch.Holds(unit, verdicts));
    }

    [Theory]
    [InlineData(FunctionId.Heat, true, FunctionState.NotGood)] // an alarm only
    [InlineData(FunctionId.Elem, false, FunctionState.NotGood)] // no permit
    [InlineData(FunctionId.Elem, true, FunctionState.Pending)]
    public void Anything_else_keeps_it(FunctionId id, bool permit, FunctionState state)
    {
        (UnitMemory unit, FunctionStatus[] verdicts) = Permitted();
        unit.Permit = permit;
        verdicts[(int)id].State = state;
        var watch = new BlindWatch();
        for (; unit.Scan < 100; unit.Scan++)
        {
            Assert.True(watch.Holds(unit, verdicts));
        }
    }

    private static (UnitMemory Unit, FunctionStatus[] Verdicts) Permitted()
    {
        var verdicts = new FunctionStatus[FunctionIds.Count];
        for (int i = 0; i < verdicts.Length; i++)
        {
            verdicts[i] = new FunctionStatus { State = FunctionState.Healthy, Reaction = FunctionIds.ReactionOf((FunctionId)i) };
        }

        return (new UnitMemory(TestSite.Of(TestSite.N1()), 0) { Permit = true }, verdicts);
    }
}
