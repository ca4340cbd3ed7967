namespace EdgeGuard.Service.Configuration.Building;

/// <summary>A read request in the making: where it begins, and which parts of it are used.</summary>
internal sealed class PackedRequest(int address)
{
    private readonly List<PollSpan> _spans = [];

    public int Address { get; } = address;

    public int End { get; private set; } = address;

    public int Count => End - Address;

    /// <summary>Used parts without a gap inside, in rising order; between two of them lies a gap.</summary>
    public IReadOnlyList<PollSpan> Spans => _spans;

    /// <summary>True when the point lies inside what is read anyway.</summary>
    public bool Covers(int first, int count) => first >= Address && first + count <= End;

    /// <summary>Adds a used part: at or after the latest one, or anywhere inside the request.</summary>
    public void Add(int first, int count)
    {
        End = Math.Max(End, first + count);
        _spans.Add(new PollSpan(first - Address, count));
        _spans.Sort(static (a, b) => a.Offset.CompareTo(b.Offset));
        Merge();
    }

    private void Merge()
    {
        for (int i = _spans.Count - 1; i > 0; i--)
        {
            PollSpan before = _spans[i - 1];
            if (_spans[i].Offset <= before.Offset + before.Count)
            {
                int end = Math.Max(before.Offset + before.Count, _spans[i].Offset + _spans[i].Count);
                _spans[i - 1] = new PollSpan(before.Offset, end - before.Offset);
                _spans.RemoveAt(i);
            }
        }
    }
}
