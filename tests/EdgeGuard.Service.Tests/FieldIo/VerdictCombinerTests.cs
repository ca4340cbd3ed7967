using EdgeGuard.Core.Signals;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>One verdict on the settings of several devices.</summary>
public sealed class VerdictCombinerTests
{
    private readonly RawScan _scan = new([1, 1, 1, 1], 1);
    private readonly VerdictCombiner _combiner = new([new CombinedVerdictTable { Block = 3, Parts = [0, 1, 2] }]);

    // Each part is "result word age"; the columns are three devices and what becomes of them.
    [Theory]
    [InlineData("Good 1 10", "Good 1 30", "Good 1 20", "Good 1 30")] // all as commissioned, as old as the oldest
    [InlineData("Good 1 10", "Good 0 20", "Good 1 30", "Good 0 20")] // one differs
    [InlineData("Good 0 10", "NotConnected 1 900", "Good 1 30", "Good 0 10")] // one differs, another is not known
    [InlineData("Timeout 1 900", "Good 1 20", "Good 0 30", "Good 0 30")]
    [InlineData("Good 1 10", "Good 1 20", "NotConnected 1 900", "NotConnected 1 900")] // one is not known
    [InlineData("NeverRead 0 2147483647", "Good 1 20", "Good 1 30", "NeverRead 0 2147483647")]
    [InlineData("NotConnected 0 900", "Good 1 20", "Good 1 30", "NotConnected 0 900")] // was different when last seen
    public void It_differs_when_one_differs_and_is_unknown_when_one_is(string first, string second, string third, string expected)
    {
        Put(0, first);
        Put(1, second);
        Put(2, third);
        _combiner.Fill(_scan);
        RawBlock verdict = _scan.Blocks[3];
        Assert.Equal(expected, $"{verdict.Result} {verdict.Words[0]} {verdict.AgeMs}");
    }

    [Fact]
    public void It_allocates_nothing()
    {
        _combiner.Fill(_scan);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 1_000; i++)
        {
            _combiner.Fill(_scan);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private void Put(int block, string text)
    {
        string[] words = text.Split(' ');
        ref RawBlock part = ref _scan.Blocks[block];
        part.Result = Enum.Parse<ReadResult>(words[0]);
        part.Words[0] = ushort.Parse(words[1], System.Globalization.CultureInfo.InvariantCulture);
        part.AgeMs = int.Parse(words[2], System.Globalization.CultureInfo.InvariantCulture);
    }
}
