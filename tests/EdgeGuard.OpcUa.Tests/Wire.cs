namespace EdgeGuard.OpcUa.Tests;

/// <summary>Shorthand of the tests: hexadecimal text to bytes and back, one value written.</summary>
internal static class Wire
{
    public delegate void WriteOne(UaWriter writer);

    public static byte[] Hex(string text) => Convert.FromHexString(text.Replace(" ", "", StringComparison.Ordinal));

    public static string Written(WriteOne write)
    {
        using var writer = new UaWriter();
        write(writer);
        Assert.False(writer.Overflowed);
        return Convert.ToHexString(writer.Written);
    }

    public static byte[] Bytes(WriteOne write)
    {
        using var writer = new UaWriter();
        write(writer);
        return writer.Written.ToArray();
    }
}
