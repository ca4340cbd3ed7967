namespace EdgeGuard.Modbus.Framing;

/// <summary>CRC-16 of Modbus serial line (V1.02, 6.2.2): polynomial 0xA001 reflected, start 0xFFFF, sent low byte first.</summary>
public static class Crc16
{
    private const ushort Polynomial = 0xA001;
    private static readonly ushort[] Table = BuildTable();

    /// <summary>CRC of <paramref name="bytes"/>.</summary>
    public static ushort Compute(ReadOnlySpan<byte> bytes)
    {
        int crc = 0xFFFF;
        foreach (byte b in bytes)
        {
            crc = (crc >> 8) ^ Table[(crc ^ b) & 0xFF];
        }

        return (ushort)crc;
    }

    private static ushort[] BuildTable()
    {
        ushort[] table = new ushort[256];
        for (int i = 0; i < table.Length; i++)
        {
            int crc = i;
            for (int bit = 0; bit < 8; bit++)
            {
                crc = (crc & 1) != 0 ? (crc >> 1) ^ Polynomial : crc >> 1;
            }

            table[i] = (ushort)crc;
        }

        return table;
    }
}
