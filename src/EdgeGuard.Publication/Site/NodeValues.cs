using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using StatusCode = EdgeGuard.OpcUa.StatusCode;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// How a variable says that there is nothing to say. The core tells "unknown" by NaN, the ring "none" by an empty text or
/// the time 0; a client is told so by the status and gets no number to average, no text and no moment.
/// </summary>
internal static class NodeValues
{
    /// <summary>There is no value.</summary>
    public static void SetNoData(this VariableNode node, UaDateTime stamp) => node.Set(new DataValue(default, StatusCode.BadNoData, stamp));

    /// <summary>A number; NaN is none.</summary>
    public static void SetNumber(this VariableNode node, double value, UaDateTime stamp)
    {
        if (double.IsNaN(value))
        {
            node.SetNoData(stamp);
        }
        else
        {
            node.Set(new Variant(value), stamp);
        }
    }

    /// <summary>A text; an empty one is none.</summary>
    public static void SetText(this VariableNode node, string text, UaDateTime stamp)
    {
        if (text.Length == 0)
        {
            node.SetNoData(stamp);
        }
        else
        {
            node.Set(new Variant(text), stamp);
        }
    }

    /// <summary>A moment, Unix ms; 0 and NaN are none.</summary>
    public static void SetMoment(this VariableNode node, double unixMs, UaDateTime stamp)
    {
        if (unixMs > 0)
        {
            node.Set(new Variant(UaDateTime.FromUnixMs((long)unixMs)), stamp);
        }
        else
        {
            node.SetNoData(stamp);
        }
    }
}
