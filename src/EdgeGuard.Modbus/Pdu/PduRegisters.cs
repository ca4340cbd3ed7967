using System.Buffers.Binary;
using System.Runtime.InteropServices;

namespace EdgeGuard.Modbus.Pdu;

/// <summary>Registers on the wire: 16 bits, high byte first (V1.1b3, 4.2). No type wider than a register exists in the protocol.</summary>
public static class PduRegisters
{
    /// <summary>Writes <paramref name="words"/> to the first bytes of <paramref name="bytes"/>.</summary>
    public static void Pack(ReadOnlySpan<ushort> words, Span<byte> bytes)
    {
        Span<ushort> wire = MemoryMarshal.Cast<byte, ushort>(bytes[..(2 * words.Length)]);
        if (BitConverter.IsLittleEndian)
        {
            BinaryPrimitives.ReverseEndianness(words, wire);
        }
        else
        {
            words.CopyTo(wire);
        }
    }

    /// <summary>Reads as many registers as <paramref name="words"/> has places.</summary>
    public static void Unpack(ReadOnlySpan<byte> bytes, Span<ushort> words)
    {
        ReadOnlySpan<ushort> wire = MemoryMarshal.Cast<byte, ushort>(bytes[..(2 * words.Length)]);
        if (BitConverter.IsLittleEndian)
        {
            BinaryPrimitives.ReverseEndianness(wire, words);
        }
        else
        {
            wire.CopyTo(words);
        }
    }
}
