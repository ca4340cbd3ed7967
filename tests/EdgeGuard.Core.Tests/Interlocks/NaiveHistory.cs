using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Core.Tests.Interlocks;

/// <summary>What <see cref="NaiveUnit"/> remembers of measured values: one for those judged, one for the real ones.</summary>
internal sealed class NaiveHistory
{
    public List<bool> FlowLow { get; private set; } = [];

    public List<bool> ElementHigh { get; private set; } = [];

    public List<bool> OutletHigh { get; private set; } = [];

    public List<bool>[] Lost { get; private set; } = [[], [], [], []];

    public bool FlowDemanded { get; set; }

    public NaiveHistory Copy()
    {
        var copy = new NaiveHistory();
        copy.Take(FunctionId.Flow, this);
        copy.Take(FunctionId.Elem, this);
        copy.Take(FunctionId.Outl, this);
        copy.Take(FunctionId.Sens, this);
        return copy;
    }

    /// <summary>Takes over what another remembers for one function.</summary>
    public void Take(FunctionId function, NaiveHistory other)
    {
        switch (function)
        {
            case FunctionId.Flow:
                FlowLow = [.. other.FlowLow];
                FlowDemanded = other.FlowDemanded;
                break;
            case FunctionId.Elem:
                ElementHigh = [.. other.ElementHigh];
                break;
            case FunctionId.Outl:
                OutletHigh = [.. other.OutletHigh];
                break;
            default:
                Lost = [.. other.Lost.Select(l => (List<bool>)[.. l])];
                break;
        }
    }
}
