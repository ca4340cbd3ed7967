namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>
/// The sampling intervals in use. The fastest one also samples whenever values were stored, so that a source that
/// changes at exactly that rate loses nothing to a beat between two clocks. Under the server's gate.
/// </summary>
internal sealed class SampleGroups(double fastestMs)
{
    // So many distinct intervals are kept apart; further ones join the next faster group.
    private const int GroupsMax = 256;

    private readonly List<SampleGroup> _groups = [];

    public double FastestMs => fastestMs;

    public void Add(MonitoredItem item, long nowMs)
    {
        SampleGroup? group = Find(item.SamplingMs);
        if (group is null)
        {
            group = new SampleGroup(item.SamplingMs, nowMs + (long)item.SamplingMs);
            _groups.Add(group);
        }

        group.Add(item);
    }

    public void Remove(MonitoredItem item)
    {
        if (item.Group is { } group)
        {
            group.Remove(item);
            if (group.Count == 0)
            {
                _groups.Remove(group);
            }
        }
    }

    public long SampleDue(in SamplingContext context, long nowMs)
    {
        long next = long.MaxValue;
        foreach (SampleGroup group in _groups)
        {
            group.SampleIfDue(context, nowMs);
            next = Math.Min(next, group.NextMs);
        }

        return next;
    }

    public void SampleFastest(in SamplingContext context)
    {
        foreach (SampleGroup group in _groups)
        {
            if (group.IntervalMs <= fastestMs)
            {
                group.Sample(context);
            }
        }
    }

    private SampleGroup? Find(double intervalMs)
    {
        SampleGroup? faster = null;
        foreach (SampleGroup group in _groups)
        {
            if (group.IntervalMs == intervalMs)
            {
                return group;
            }

            if (group.IntervalMs < intervalMs && (faster is null || group.IntervalMs > faster.IntervalMs))
            {
                faster = group;
            }
        }

        return _groups.Count < GroupsMax ? null : faster;
    }
}
