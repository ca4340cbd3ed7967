using CsCheck;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Configuration.Building;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>The packer against trying every way of cutting the list of points into requests.</summary>
public sealed class RequestPackerTests
{
    private static readonly Gen<(int Address, int Count)[]> AnyPoints =
        Gen.Select(Gen.Int[0, 40], Gen.Int[0, 3].Select(i => i == 0 ? 1 : 1 << (i - 1))).Array[1, 9].Select(a => a.OrderBy(p => p.Item1).ThenBy(p => p.Item2).ToArray());

    [Fact]
    public void No_other_cut_of_the_list_needs_fewer_requests()
    {
        Gen.Select(AnyPoints, Gen.Int[0, 6], Gen.Int[4, 20]).Sample(
            (points, gap, most) => RequestPacker.Pack(points, gap, most).Count == Fewest(points, gap, most),
            iter: 20_000);
    }

    [Fact]
    public void Every_point_is_whole_in_a_request_within_the_limits_and_spans_are_what_is_used()
    {
        Gen.Select(AnyPoints, Gen.Int[0, 6], Gen.Int[4, 20]).Sample(
            (points, gap, most) =>
            {
                List<PackedRequest> requests = RequestPacker.Pack(points, gap, most);
                HashSet<int> used = [.. points.SelectMany(p => Enumerable.Range(p.Address, p.Count))];
                HashSet<int> spans = [.. requests.SelectMany(r => r.Spans.SelectMany(s => Enumerable.Range(r.Address + s.Offset, s.Count)))];
                return points.All(p => requests.Any(r => r.Covers(p.Address, p.Count)))
                    && requests.All(r => r.Count <= most && r.Spans[0].Offset == 0 && r.Spans[^1].Offset + r.Spans[^1].Count == r.Count)
                    && requests.All(r => r.Spans.Zip(r.Spans.Skip(1)).All(p => Gap(p.First, p.Second) is var g && g >= 1 && g <= gap))
                    && used.SetEquals(spans);
            },
            iter: 20_000);
    }

    private static int Gap(PollSpan first, PollSpan second) => second.Offset - first.Offset - first.Count;

    /// <summary>Shortest cut by trying each: best[i] = fewest requests for the first i points.</summary>
    private static int Fewest((int Address, int Count)[] points, int gap, int most)
    {
        var best = new int[points.Length + 1];
        for (int end = 1; end <= points.Length; end++)
        {
            best[end] = int.MaxValue;
            for (int start = 0; start < end; start++)
            {
                if (Fits(points[start..end], gap, most))
                {
                    best[end] = Math.Min(best[end], best[start] + 1);
                }
            }
        }

        return best[^1];
    }

    private static bool Fits((int Address, int Count)[] points, int gap, int most)
    {
        HashSet<int> used = [.. points.SelectMany(p => Enumerable.Range(p.Address, p.Count))];
        int run = 0;
        for (int address = used.Min(); address <= used.Max(); address++)
        {
            run = used.Contains(address) ? 0 : run + 1;
            if (run > gap)
            {
                return false;
            }
        }

        return used.Max() + 1 - used.Min() <= most;
    }
}
