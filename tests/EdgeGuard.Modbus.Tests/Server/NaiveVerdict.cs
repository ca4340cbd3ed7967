namespace EdgeGuard.Modbus.Tests.Server;

/// <summary>
/// The state diagrams of V1.1b3 (section 6) told again in the plainest way, as oracle for the server:
/// function (01), then quantity, byte count, length and value (03), then address and address plus quantity (02).
/// </summary>
internal static class NaiveVerdict
{
    /// <summary>Exception code for a request PDU to a device of <paramref name="size"/> items a table; 0 for none.</summary>
    public static int Of(byte[] pdu, int size)
    {
        int function = pdu[0];
        switch (function)
        {
            case 1 or 2 or 3 or 4 or 5 or 6 or 15 or 16:
                break;
            case 7:
                return pdu.Length == 1 ? 1 : 3; // the device of the enumeration has no exception status
            case 8:
                return pdu.Length < 3 ? 3 : pdu[1] + pdu[2] != 0 ? 1 : pdu.Length == 5 ? 0 : 3;
            case 22:
                return pdu.Length != 7 ? 3 : (pdu[1] * 256) + pdu[2] >= size ? 2 : 0;
            case 23:
                return OfReadWrite(pdu, size);
            case 43:
                return pdu.Length < 2 ? 3 : pdu[1] != 14 ? 1 : pdu.Length != 4 || pdu[2] is 0 or > 4 ? 3 : 1;
            default:
                return 1;
        }

        if (pdu.Length < 5)
        {
            return 3;
        }

        int address = (pdu[1] * 256) + pdu[2];
        int second = (pdu[3] * 256) + pdu[4];
        int quantity = function is 5 or 6 ? 1 : second;
        int max = function is 1 or 2 ? 2000 : function is 3 or 4 ? 125 : function == 15 ? 1968 : function == 16 ? 123 : 1;
        int dataLength = function == 15 ? (quantity / 8) + (quantity % 8 == 0 ? 0 : 1) : 2 * quantity;
        bool isMultiple = function is 15 or 16;
        bool isValue =
            quantity >= 1 && quantity <= max
            && (function != 5 || second == 0 || second == 0xFF00)
            && (isMultiple ? pdu.Length == 6 + dataLength && pdu[5] == dataLength : pdu.Length == 5);
        return !isValue ? 3 : address + quantity > size ? 2 : 0;
    }

    private static int OfReadWrite(byte[] pdu, int size)
    {
        if (pdu.Length < 10)
        {
            return 3;
        }

        int readCount = (pdu[3] * 256) + pdu[4];
        int writeCount = (pdu[7] * 256) + pdu[8];
        bool isValue = readCount >= 1 && readCount <= 125 && writeCount >= 1 && writeCount <= 121
            && pdu[9] == writeCount * 2 && pdu.Length == 10 + (writeCount * 2);
        bool isThere = (pdu[1] * 256) + pdu[2] + readCount <= size && (pdu[5] * 256) + pdu[6] + writeCount <= size;
        return !isValue ? 3 : !isThere ? 2 : 0;
    }
}
