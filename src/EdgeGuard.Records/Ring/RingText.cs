using System.Buffers.Binary;
using System.Text;

namespace EdgeGuard.Records.Ring;

/// <summary>A text in the ring: its length in bytes as u16, then UTF-8, cut to its place at a whole character, zeros behind it. Allocates nothing to write.</summary>
internal static class RingText
{
    private const int LengthBytes = 2;

    public static void Write(Span<byte> slot, ReadOnlySpan<char> text)
    {
        Span<byte> bytes = slot[LengthBytes..];
        bytes.Clear();
        int length = 0;
        foreach (Rune rune in text.EnumerateRunes())
        {
            if (length + rune.Utf8SequenceLength > bytes.Length)
            {
                break;
            }

            length += rune.EncodeToUtf8(bytes[length..]);
        }

        BinaryPrimitives.WriteUInt16LittleEndian(slot, (ushort)length);
    }

    public static string Read(ReadOnlySpan<byte> slot)
    {
        int length = Math.Min((int)BinaryPrimitives.ReadUInt16LittleEndian(slot), slot.Length - LengthBytes);
        return Encoding.UTF8.GetString(slot.Slice(LengthBytes, length));
    }
}
