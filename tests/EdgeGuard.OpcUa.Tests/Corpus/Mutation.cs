namespace EdgeGuard.OpcUa.Tests.Corpus;

/// <summary>
/// Changes an input: one to four times a bit, a byte at an edge, a length gone wild, bytes cut out, put in, taken from
/// another input, or the end cut off. It depends on nothing but its generator, so a number brings it back.
/// </summary>
internal static class Mutation
{
    private const int GrowthBytes = 16;
    private static readonly int[] Lengths = [int.MaxValue, -1, int.MinValue, 0, 65_536, 65_537];

    /// <summary>Bytes of the target beyond those of the input that are enough for all changes.</summary>
    public const int RoomBytes = 4 * GrowthBytes;

    /// <summary>Writes the changed input into the target and returns its length.</summary>
    /// <param name="valid">The input to start from.</param>
    /// <param name="other">An input to take bytes from.</param>
    /// <param name="from">Bytes before this stay as they are.</param>
    /// <param name="target">At least <see cref="RoomBytes"/> longer than the input.</param>
    /// <param name="random">Generator.</param>
    public static int Apply(ReadOnlySpan<byte> valid, ReadOnlySpan<byte> other, int from, byte[] target, Random random)
    {
        valid.CopyTo(target);
        int length = valid.Length;
        for (int changes = random.Next(1, 5); changes > 0 && length > from; changes--)
        {
            length = Change(target, length, random.Next(from, length), other, random);
        }

        return length;
    }

    /// <summary>One change that moves no other byte: what it leads to is more often a valid message with an odd figure.</summary>
    /// <param name="bytes">The input, changed in place.</param>
    /// <param name="from">Bytes before this stay as they are.</param>
    /// <param name="random">Generator.</param>
    public static void ApplyOne(byte[] bytes, int from, Random random)
    {
        int at = random.Next(from, bytes.Length);
        switch (random.Next(4))
        {
            case 0:
                bytes[at] ^= (byte)(1 << random.Next(8));
                break;
            case 1:
                bytes[at] = (byte)(random.Next(3) switch { 0 => 0, 1 => 0xFF, _ => 0x80 });
                break;
            case 2 when at + 4 <= bytes.Length:
                BitConverter.TryWriteBytes(bytes.AsSpan(at), Lengths[random.Next(Lengths.Length)]);
                break;
            default:
                bytes[at] = (byte)random.Next(256);
                break;
        }
    }

    private static int Change(byte[] target, int length, int at, ReadOnlySpan<byte> other, Random random)
    {
        switch (random.Next(8))
        {
            case 0:
                target[at] ^= (byte)(1 << random.Next(8));
                return length;
            case 1:
                target[at] = (byte)(random.Next(3) switch { 0 => 0, 1 => 0xFF, _ => 0x80 });
                return length;
            case 2 when at + 4 <= length:
                BitConverter.TryWriteBytes(target.AsSpan(at), Lengths[random.Next(Lengths.Length)]);
                return length;
            case 3:
                int cut = Math.Min(random.Next(1, 20), length - at);
                target.AsSpan(at + cut, length - at - cut).CopyTo(target.AsSpan(at));
                return length - cut;
            case 4:
                target.AsSpan(at, length - at).CopyTo(target.AsSpan(at + GrowthBytes));
                return length + GrowthBytes;
            case 5:
                return at;
            case 6 when other.Length > 0:
                ReadOnlySpan<byte> taken = other[random.Next(other.Length)..];
                taken[..Math.Min(taken.Length, length - at)].CopyTo(target.AsSpan(at));
                return length;
            default:
                random.NextBytes(target.AsSpan(at, Math.Min(4, length - at)));
                return length;
        }
    }
}
