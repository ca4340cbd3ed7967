using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Requests;

public sealed class RefusalTextTests
{
    [Fact]
    public void Every_reason_of_the_core_has_a_sentence_of_its_own()
    {
        string[] sentences = [.. Enum.GetValues<RefusalReason>().Where(r => r != RefusalReason.None).Select(r => RefusalText.Of(new GuardEvent { Id = EventId.RequestRefused, Reason = r }))];
        Assert.Equal(sentences.Length, sentences.Distinct(StringComparer.Ordinal).Count());
        Assert.DoesNotContain(sentences, s => s.Contains("reason number", StringComparison.Ordinal));
    }
}
