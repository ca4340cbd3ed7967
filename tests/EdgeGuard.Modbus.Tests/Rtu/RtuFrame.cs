namespace EdgeGuard.Modbus.Tests.Rtu;

/// <summary>RTU frames built here, with a CRC computed bit by bit from the polynomial, so that the codec is not its own judge.</summary>
internal static class RtuFrame
{
    public static byte[] Of(byte unitId, string pdu) => Of(unitId, Hex.Bytes(pdu));

    public static byte[] Of(byte unitId, params byte[] pdu)
    {
        byte[] body = [unitId, .. pdu];
        int crc = 0xFFFF;
        foreach (byte b in body)
        {
            crc ^= b;
            for (int bit = 0; bit < 8; bit++)
            {
                crc = (crc & 1) == 1 ? (crc >> 1) ^ 0xA001 : crc >> 1; // Serial Line V1.02, 6.2.2
            }
        }

        return [.. body, (byte)(crc & 0xFF), (byte)(crc >> 8)];
    }
}
