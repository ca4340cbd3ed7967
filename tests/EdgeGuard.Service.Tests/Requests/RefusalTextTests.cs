using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;
using EdgeGuard.Core.Signals;
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

    [Fact]
    public void A_refused_start_speaks_of_a_start_and_never_of_what_a_reset_needs()
    {
        foreach (RefusalReason reason in Enum.GetValues<RefusalReason>())
        {
            foreach (FunctionId function in Enum.GetValues<FunctionId>())
            {
                string text = RefusalText.Of(new GuardEvent { Id = EventId.RequestRefused, Reason = reason, Function = function, Value = 12, Limit = 70 }, RequestKind.Start);
                Assert.DoesNotContain("a reset needs", text, StringComparison.Ordinal);
                Assert.Equal(reason == RefusalReason.CauseStillPresent && function != FunctionId.None, text.Contains("; a start needs ", StringComparison.Ordinal));
            }
        }
    }

    [Fact]
    public void Every_finding_has_words_of_its_own()
    {
        Finding[] findings = [.. Enum.GetValues<Finding>()[1..]];
        Assert.Equal(findings.Length, findings.Select(f => FunctionTexts.Of(FunctionId.Cmdv, f).Title).Append(FunctionTexts.Of(FunctionId.Cmdv).Title).Distinct(StringComparer.Ordinal).Count() - 1);
    }

    [Theory]
    [InlineData(FunctionId.Hard, "hardwired safety chain cannot be read")]
    [InlineData(FunctionId.Flow, "gas flow cannot be read, which counts as no flow")]
    [InlineData(FunctionId.Cmdv, "key or watchdog of the cabinet cannot be read")]
    public void What_cannot_be_read_is_not_called_open_or_low(FunctionId function, string title)
    {
        FunctionText text = FunctionTexts.Of(function, Finding.NotReadable);
        Assert.Equal(title, text.Title);
        Assert.Contains("link", text.LookAt, StringComparison.Ordinal);
    }
}
