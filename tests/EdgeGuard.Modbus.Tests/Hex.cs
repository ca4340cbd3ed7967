namespace EdgeGuard.Modbus.Tests;

/// <summary>Bytes as the specification prints them.</summary>
internal static class Hex
{
    public static byte[] Bytes(string text) => Convert.FromHexString(text.Replace(" ", "", StringComparison.Ordinal));

    public static string Text(ReadOnlySpan<byte> bytes) => string.Join(' ', Convert.ToHexString(bytes).Chunk(2).Select(c => new string(c)));

    /// <summary>A frame with its MBAP header, written out here so that the codec is not its own judge.</summary>
    public static byte[] Frame(int transactionId, byte unitId, params byte[] pdu) =>
    [
        (byte)(transactionId >> 8), (byte)(transactionId & 0xFF), 0, 0,
        (byte)((pdu.Length + 1) >> 8), (byte)((pdu.Length + 1) & 0xFF), unitId, .. pdu,
    ];
}
