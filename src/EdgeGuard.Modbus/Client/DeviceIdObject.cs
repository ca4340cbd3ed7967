namespace EdgeGuard.Modbus.Client;

/// <summary>One object of a device identification.</summary>
/// <param name="Id">0 vendor, 1 product code, 2 revision, 3 vendor's address, 4 product name, 5 model, 6 application name; 0x80 and up the maker's own.</param>
/// <param name="Text">Its text; bytes that are not printable ASCII show as a question mark.</param>
public readonly record struct DeviceIdObject(byte Id, string Text)
{
    private static readonly string[] Names =
        ["vendor name", "product code", "revision", "vendor URL", "product name", "model name", "user application name"];

    /// <summary>Name of the object as in Application Protocol V1.1b3, 6.21.</summary>
    public string Name => Id < Names.Length ? Names[Id] : $"object 0x{Id:X2}";

    internal static DeviceIdObject From(byte id, ReadOnlySpan<byte> value)
    {
        Span<char> text = stackalloc char[value.Length];
        for (int i = 0; i < value.Length; i++)
        {
            text[i] = value[i] is >= 0x20 and < 0x7F ? (char)value[i] : '?';
        }

        return new DeviceIdObject(id, new string(text));
    }
}
