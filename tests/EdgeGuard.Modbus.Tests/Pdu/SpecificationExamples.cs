namespace EdgeGuard.Modbus.Tests.Pdu;

/// <summary>
/// The request and answer printed for each function in the Modbus Application Protocol V1.1b3 (2012-04-26), sections
/// 6.1 to 6.6, 6.11, 6.12, 6.16, 6.17, and the exception example of section 7; figures as reproduced in public
/// transcriptions. Those of 6.7, 6.8 and 6.21 are from memory.
/// </summary>
internal static class SpecificationExamples
{
    public static readonly (string Section, string Request, string Answer)[] All =
    [
        ("6.1", "01 00 13 00 13", "01 03 CD 6B 05"),
        ("6.2", "02 00 C4 00 16", "02 03 AC DB 35"),
        ("6.3", "03 00 6B 00 03", "03 06 02 2B 00 00 00 64"),
        ("6.4", "04 00 08 00 01", "04 02 00 0A"),
        ("6.5", "05 00 AC FF 00", "05 00 AC FF 00"),
        ("6.6", "06 00 01 00 03", "06 00 01 00 03"),
        ("6.11", "0F 00 13 00 0A 02 CD 01", "0F 00 13 00 0A"),
        ("6.12", "10 00 01 00 02 04 00 0A 01 02", "10 00 01 00 02"),
        ("6.7", "07", "07 6D"),
        ("6.8", "08 00 00 A5 37", "08 00 00 A5 37"),
        ("6.16", "16 00 04 00 F2 00 25", "16 00 04 00 F2 00 25"),
        ("6.17", "17 00 03 00 06 00 0E 00 03 06 00 FF 00 FF 00 FF", "17 0C 00 FE 0A CD 00 01 00 03 00 0D 00 FF"),
        ("6.21", "2B 0E 01 00", Identification),
        ("7", "01 04 A1 00 01", "81 02"),
    ];

    // Three basic objects, "Company identification", "Product code XX", "V2.11", from a device whose conformity level is
    // basic with single access; the printed answer has level 01, without single access.
    private const string Identification =
        "2B 0E 01 81 00 00 03 00 16 43 6F 6D 70 61 6E 79 20 69 64 65 6E 74 69 66 69 63 61 74 69 6F 6E "
        + "01 0F 50 72 6F 64 75 63 74 20 63 6F 64 65 20 58 58 02 05 56 32 2E 31 31";

    /// <summary>A device that holds the values of the examples; it ends at 0x4A0, so that the example of section 7 is refused.</summary>
    public static MemoryDevice Device()
    {
        DiagnosticMemoryDevice device = new(0x4A0) { Status = 0x6D };
        Bits(device.Coils, 0x13, 0x13, [0xCD, 0x6B, 0x05]);
        Bits(device.DiscreteInputs, 0xC4, 0x16, [0xAC, 0xDB, 0x35]);
        device.HoldingRegisters[0x6B] = 555;
        device.HoldingRegisters[0x6D] = 100;
        device.InputRegisters[8] = 10;
        new ushort[] { 0x00FE, 0x0ACD, 1, 3, 0x0D, 0xFF }.CopyTo(device.HoldingRegisters, 3);
        return device;
    }

    private static void Bits(bool[] table, int address, int count, byte[] packed)
    {
        for (int i = 0; i < count; i++)
        {
            table[address + i] = ((packed[i / 8] >> (i % 8)) & 1) == 1;
        }
    }
}
