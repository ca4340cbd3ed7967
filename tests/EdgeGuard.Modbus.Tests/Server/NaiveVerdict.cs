namespace EdgeGuard.Modbus.Tests.Server;

/// <summary>
/// The state diagrams of V1.1b3 (figures 11 to 16, 21, 22) told again in the plainest way, as oracle for the server:
/// function (01), then quantity, byte count, length and value (03), then address and address plus quantity (02).
/// </summary>
internal static class NaiveVerdict
{
    /// <summary>Exception code for a request PDU to a device of <paramref name="size"/> items a table; 0 for none.</summary>
    public static int Of(byte[] pdu, int size)
    {
        int function = pdu[0];
        if (function is not (1 or 2 or 3 or 4 or 5 or 6 or 15 or 16))
        {
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
}
