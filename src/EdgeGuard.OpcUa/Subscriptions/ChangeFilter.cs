using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>
/// Decides whether a sampled value is a change to be told (OPC 10000-4, 7.22.2). The default filter tells a change of
/// status or value. A deadband is a width in the unit of the value; per cent was turned into it by the range when the
/// item was made.
/// </summary>
/// <param name="Trigger">What counts as a change.</param>
/// <param name="DeadbandWidth">A change of the value by no more than this is none; 0 for every change.</param>
internal readonly record struct ChangeFilter(DataChangeTrigger Trigger, double DeadbandWidth)
{
    public static ChangeFilter Default { get; } = new(DataChangeTrigger.StatusValue, 0);

    public bool IsChange(in DataValue last, in DataValue current)
    {
        if (last.Status != current.Status)
        {
            return true;
        }

        if (Trigger == DataChangeTrigger.Status)
        {
            return false;
        }

        bool stampMoved = Trigger == DataChangeTrigger.StatusValueTimestamp && last.SourceTimestamp != current.SourceTimestamp;
        return stampMoved || ValueMoved(last.Value, current.Value);
    }

    private bool ValueMoved(in Variant last, in Variant current)
    {
        if (DeadbandWidth <= 0)
        {
            return !last.Equals(current);
        }

        if (last.TryGetNumber(out double before) && current.TryGetNumber(out double now))
        {
            return Passed(before, now);
        }

        return last is { Type: BuiltInType.Double, Shape: VariantShape.Array } && current is { Type: BuiltInType.Double, Shape: VariantShape.Array }
            ? Passed((double[])last.Elements!, (double[])current.Elements!)
            : !last.Equals(current);
    }

    // A NaN is a value of its own: going to or from it passes every deadband.
    private bool Passed(double before, double now) =>
        double.IsNaN(before) || double.IsNaN(now) ? double.IsNaN(before) != double.IsNaN(now) : Math.Abs(now - before) > DeadbandWidth;

    private bool Passed(double[] before, double[] now)
    {
        if (before.Length != now.Length)
        {
            return true;
        }

        for (int i = 0; i < now.Length; i++)
        {
            if (Passed(before[i], now[i]))
            {
                return true;
            }
        }

        return false;
    }
}
