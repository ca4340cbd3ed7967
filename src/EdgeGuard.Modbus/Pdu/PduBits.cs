namespace EdgeGuard.Modbus.Pdu;

/// <summary>Bit packing of functions 01, 02 and 15: first item in the lowest bit of the first byte, rest of the last byte zero (V1.1b3, 6.1).</summary>
public static class PduBits
{
    /// <summary>Bytes that hold <paramref name="bitCount"/> bits.</summary>
    public static int ByteCount(int bitCount) => (bitCount + 7) / 8;

    /// <summary>Packs <paramref name="bits"/> into the first bytes of <paramref name="bytes"/>.</summary>
    public static void Pack(ReadOnlySpan<bool> bits, Span<byte> bytes)
    {
        bytes[..ByteCount(bits.Length)].Clear();
        for (int i = 0; i < bits.Length; i++)
        {
            if (bits[i])
            {
                bytes[i / 8] |= (byte)(1 << (i % 8));
            }
        }
    }

    /// <summary>Unpacks as many bits as <paramref name="bits"/> has places.</summary>
    public static void Unpack(ReadOnlySpan<byte> bytes, Span<bool> bits)
    {
        for (int i = 0; i < bits.Length; i++)
        {
            bits[i] = IsSet(bytes, i);
        }
    }

    /// <summary>Unpacks into words of 0 or 1, as many as <paramref name="words"/> has places.</summary>
    public static void Unpack(ReadOnlySpan<byte> bytes, Span<ushort> words)
    {
        for (int i = 0; i < words.Length; i++)
        {
            words[i] = IsSet(bytes, i) ? (ushort)1 : (ushort)0;
        }
    }

    private static bool IsSet(ReadOnlySpan<byte> bytes, int index) => (bytes[index / 8] & (1 << (index % 8))) != 0;
}
