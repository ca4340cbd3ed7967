using System.Buffers.Binary;
using System.Runtime.InteropServices;

namespace EdgeGuard.OpcUa;

/// <summary>The wire is least significant byte first; on a machine that is not, arrays of numbers are turned round.</summary>
internal static class UaEndian
{
    public static void Swap(Span<byte> bytes, int elementBytes)
    {
        if (!BitConverter.IsLittleEndian)
        {
            Reverse(bytes, elementBytes);
        }
    }

    internal static void Reverse(Span<byte> bytes, int elementBytes)
    {
        switch (elementBytes)
        {
            case 2:
                Span<ushort> words = MemoryMarshal.Cast<byte, ushort>(bytes);
                BinaryPrimitives.ReverseEndianness(words, words);
                break;
            case 4:
                Span<uint> doubles = MemoryMarshal.Cast<byte, uint>(bytes);
                BinaryPrimitives.ReverseEndianness(doubles, doubles);
                break;
            case 8:
                Span<ulong> quads = MemoryMarshal.Cast<byte, ulong>(bytes);
                BinaryPrimitives.ReverseEndianness(quads, quads);
                break;
            default:
                break;
        }
    }
}
