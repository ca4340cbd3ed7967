namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>IEEE 754 singles in two registers. The guard has its own codec; the plant keeps another on purpose.</summary>
public static class FloatWords
{
    /// <summary>Puts a float with the high word first (ABCD).</summary>
    public static void PutHighFirst(float value, Span<ushort> words)
    {
        uint bits = BitConverter.SingleToUInt32Bits(value);
        words[0] = (ushort)(bits >> 16);
        words[1] = (ushort)(bits & 0xFFFF);
    }

    /// <summary>Puts a float with the low word first (CDAB).</summary>
    public static void PutLowFirst(float value, Span<ushort> words)
    {
        uint bits = BitConverter.SingleToUInt32Bits(value);
        words[0] = (ushort)(bits & 0xFFFF);
        words[1] = (ushort)(bits >> 16);
    }

    /// <summary>Gets a float with the high word first (ABCD).</summary>
    public static float GetHighFirst(ReadOnlySpan<ushort> words) =>
        BitConverter.UInt32BitsToSingle(((uint)words[0] << 16) | words[1]);
}
