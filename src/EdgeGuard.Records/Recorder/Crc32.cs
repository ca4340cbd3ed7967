namespace EdgeGuard.Records.Recorder;

/// <summary>
/// CRC-32 of IEEE 802.3 as in RFC 1952 (gzip): polynomial EDB88320 reflected, start and final value FFFFFFFF. It finds
/// accidents in the recording; it is no protection against a person, which is what the journal's hash chain is for.
/// </summary>
public static class Crc32
{
    private static readonly uint[] Table = Build();

    /// <summary>Computes the check of some bytes.</summary>
    /// <param name="bytes">The bytes.</param>
    public static uint Compute(ReadOnlySpan<byte> bytes)
    {
        uint crc = uint.MaxValue;
        foreach (byte b in bytes)
        {
            crc = Table[(crc ^ b) & 0xff] ^ (crc >> 8);
        }

        return ~crc;
    }

    private static uint[] Build()
    {
        uint[] table = new uint[256];
        for (uint i = 0; i < 256; i++)
        {
            uint value = i;
            for (int bit = 0; bit < 8; bit++)
            {
                value = (value & 1) != 0 ? 0xEDB88320 ^ (value >> 1) : value >> 1;
            }

            table[i] = value;
        }

        return table;
    }
}
