namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>All items of the server that are sampled at the same interval, in one list. Under the server's gate.</summary>
internal sealed class SampleGroup(double intervalMs, long firstMs)
{
    private readonly List<MonitoredItem> _items = [];
    private readonly List<MonitoredItem> _triggering = [];
    private double _nextMs = firstMs;

    public double IntervalMs => intervalMs;

    public long NextMs => (long)_nextMs;

    public int Count => _items.Count;

    public void Add(MonitoredItem item)
    {
        item.Group = this;
        _items.Add(item);
    }

    public void Remove(MonitoredItem item)
    {
        item.Group = null;
        int at = _items.IndexOf(item);
        if (at >= 0)
        {
            _items[at] = _items[^1];
            _items.RemoveAt(_items.Count - 1);
        }
    }

    /// <summary>Samples when it is due; samples that were missed are not made up for.</summary>
    public void SampleIfDue(in SamplingContext context, long nowMs)
    {
        if (nowMs < NextMs)
        {
            return;
        }

        _nextMs = Math.Max(_nextMs + intervalMs, nowMs + 1);
        Sample(context);
    }

    public void Sample(in SamplingContext context)
    {
        foreach (MonitoredItem item in _items)
        {
            if (item.Sample(context) && item.Links is not null)
            {
                _triggering.Add(item);
            }
        }

        // After all samples of this round, so that a linked item tells the sample of the same round.
        foreach (MonitoredItem item in _triggering)
        {
            item.Links?.ForEach(static linked => linked.Trigger());
        }

        _triggering.Clear();
    }
}
