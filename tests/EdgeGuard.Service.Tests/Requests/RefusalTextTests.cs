using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Requests;

public sealed class RefusalTextTests
{
    [Fact]
    public void A_function_without_a_good_signal_is_not_told_as_its_condition()
    {
        string text = RefusalText.Of(new GuardEvent { Id = EventId.RequestRefused, Reason = RefusalReason.CauseStillPresent, Function = FunctionId.Hard, Value = double.NaN, Limit = 1 });
        Assert.Equal("refused: the cause is still present: HARD cannot be judged, its signal is not good; look at the links, COMM and SENS in: edgeguard status", text);
    }

    [Fact]
    public void Every_reason_of_the_core_has_a_sentence_of_its_own()
    {
        string[] sentences = [.. Enum.GetValues<RefusalReason>().Where(r => r != RefusalReason.None).Select(r => RefusalText.Of(new GuardEvent { Id = EventId.RequestRefused, Reason = r }))];
        Assert.Equal(sentences.Length, sentences.Distinct(StringComparer.Ordinal).Count());
        Assert.DoesNotContain(sentences, s => s.Contains("reason number", StringComparison.Ordinal));
    }
}
