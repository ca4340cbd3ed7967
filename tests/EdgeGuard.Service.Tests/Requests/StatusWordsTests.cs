using System.Reflection;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Requests;

public sealed class StatusWordsTests
{
    [Fact]
    public void Every_status_the_core_can_set_has_words_of_its_own()
    {
        uint[] codes = [.. typeof(StatusCode).GetFields(BindingFlags.Public | BindingFlags.Static).Select(f => (uint)f.GetRawConstantValue()!)];
        Assert.True(codes.Length >= 9);
        string[] words = [.. codes.Select(c => StatusWords.Of(c.ToString("x8", System.Globalization.CultureInfo.InvariantCulture)))];
        Assert.Equal(words.Length, words.Distinct(StringComparer.Ordinal).Count());
        Assert.DoesNotContain(words, w => w.StartsWith('8') || w.StartsWith('4'));
    }

    [Theory]
    [InlineData("00970000", "00970000")] // a good code that this program never sets
    [InlineData("808c0000", "out of range or sensor broken")]
    [InlineData("not hex", "not hex")]
    public void An_unknown_code_is_shown_as_it_came(string hex, string words) => Assert.Equal(words, StatusWords.Of(hex));
}
