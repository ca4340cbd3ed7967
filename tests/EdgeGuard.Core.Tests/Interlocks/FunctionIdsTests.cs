using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Core.Tests.Interlocks;

public sealed class FunctionIdsTests
{
    [Fact]
    public void Only_the_named_functions_do_not_remove_power()
    {
        FunctionId[] others = [.. Enum.GetValues<FunctionId>().Where(f => FunctionIds.ReactionOf(f) != Reaction.Removal)];
        Assert.Equal([FunctionId.Cool, FunctionId.Heat, FunctionId.Aftc, FunctionId.Dmnd, FunctionId.Jrnl, FunctionId.Leak, FunctionId.Bala], others);
        Assert.Equal(Reaction.Removal, FunctionIds.ReactionOf((FunctionId)200));
    }

    [Trait("requirement", "LATCH-2")]
    [Fact]
    public void A_removing_function_blocks_unless_healthy_alarm_or_idle()
    {
        foreach (FunctionId function in Enum.GetValues<FunctionId>())
        {
            bool removes = FunctionIds.ReactionOf(function) == Reaction.Removal;
            foreach (FunctionState state in Enum.GetValues<FunctionState>())
            {
                bool calm = state is FunctionState.Healthy or FunctionState.Alarm or FunctionState.Idle;
                Assert.Equal(removes && !calm, FunctionIds.Blocks(function, state));
            }
        }
    }
}
