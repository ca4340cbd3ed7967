using System.Buffers.Binary;

namespace EdgeGuard.Modbus.Pdu;

/// <summary>Registers on the wire: 16 bits, high byte first (V1.1b3, 4.2). No type wider than a register exists in the protocol.</summary>
public static class PduRegisters
{
    /// <summary>Writes <paramref name="words"/> to the first bytes of <paramref name="bytes"/>.</summary>
    public static void Pack(ReadOnlySpan<ushort> words, Span<byte> bytes)
    {
        for (int i = 0; i < words.Length; i++)
        {
            BinaryPrimitives.WriteUInt16BigEndian(bytes[(2 * i)..], words[i]);
        }
    }

    /// <summary>Reads as many registers as <paramref name="words"/> has places.</summary>
    public static void Unpack(ReadOnlySpan<byte> bytes, Span<ushort> words)
    {
        for (int i = 0; i < words.Length; i++)
        {
            words[i] = BinaryPrimitives.ReadUInt16BigEndian(bytes[(2 * i)..]);
        }
    }
}
