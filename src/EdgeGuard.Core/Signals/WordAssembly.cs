namespace EdgeGuard.Core.Signals;

/// <summary>
/// Two 16-bit registers as one 32-bit pattern and back. The Modbus Application Protocol specification V1.1b3
/// (4.2) fixes the byte order inside one register only; the order of two registers, and whether a device swaps
/// the bytes, is the device maker's choice. So every one of the four orders in use is spelt out here.
/// </summary>
internal static class WordAssembly
{
    /// <summary>Joins two registers. False when the order is not configured.</summary>
    public static bool TryJoin(ushort first, ushort second, WordOrder order, out uint bits)
    {
        bits = order switch
        {
            WordOrder.Abcd => Join(first, second),
            WordOrder.Cdab => Join(second, first),
            WordOrder.Badc => Join(Swap(first), Swap(second)),
            WordOrder.Dcba => Join(Swap(second), Swap(first)),
            _ => 0,
        };
        return IsConfigured(order);
    }

    /// <summary>Splits a pattern into two registers. False when the order is not configured.</summary>
    public static bool TrySplit(uint bits, WordOrder order, out ushort first, out ushort second)
    {
        var high = (ushort)(bits >> 16);
        var low = (ushort)(bits & 0xFFFF);
        (first, second) = order switch
        {
            WordOrder.Abcd => (high, low),
            WordOrder.Cdab => (low, high),
            WordOrder.Badc => (Swap(high), Swap(low)),
            WordOrder.Dcba => (Swap(low), Swap(high)),
            _ => default,
        };
        return IsConfigured(order);
    }

    private static bool IsConfigured(WordOrder order) => order is >= WordOrder.Abcd and <= WordOrder.Dcba;

    private static uint Join(ushort high, ushort low) => ((uint)high << 16) | low;

    private static ushort Swap(ushort word) => (ushort)((word >> 8) | ((word & 0xFF) << 8));
}
