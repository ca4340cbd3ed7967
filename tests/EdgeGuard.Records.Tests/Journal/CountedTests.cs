using EdgeGuard.Records.Journal;

namespace EdgeGuard.Records.Tests.Journal;

public sealed class CountedTests
{
    [Theory]
    [InlineData(0, "0 units")]
    [InlineData(1, "1 unit")]
    [InlineData(2, "2 units")]
    [InlineData(12_345, "12345 units")]
    [InlineData(-1, "-1 units")]
    public void One_is_singular_and_everything_else_plural(long number, string words) => Assert.Equal(words, Counted.Of(number, "unit"));

    [Fact]
    public void A_plural_of_its_own_is_taken()
    {
        Assert.Equal("1 line was", Counted.Of(1, "line was", "lines were"));
        Assert.Equal("3 lines were", Counted.Of(3, "line was", "lines were"));
    }
}
