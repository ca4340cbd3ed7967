using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Misbehaving;

/// <summary>One function of the protocol: how the client asks, what a right answer is, and what an answer to something else would be.</summary>
/// <param name="Code">Function code.</param>
/// <param name="Ask">Asks for the item at address 16 of a unit.</param>
/// <param name="Request">The request PDU.</param>
/// <param name="Answer">The right answer PDU.</param>
/// <param name="Altered">An answer of the right form that belongs to another request: another byte count for a read, another echo for a write; empty where there is none.</param>
internal sealed record FunctionCase(byte Code, Func<ModbusLink, byte, int, ModbusResult> Ask, string Request, string Answer, string Altered)
{
    private static readonly ushort[] Words = new ushort[4];

    public static readonly FunctionCase[] All =
    [
        new(0x01, (l, u, t) => l.ReadBits(u, ModbusTable.Coils, 16, Words.AsSpan(0, 3), t), "01 00 10 00 03", "01 01 05", "01 02 05 00"),
        new(0x02, (l, u, t) => l.ReadBits(u, ModbusTable.DiscreteInputs, 16, Words.AsSpan(0, 3), t), "02 00 10 00 03", "02 01 05", "02 02 05 00"),
        new(0x03, (l, u, t) => l.ReadRegisters(u, ModbusTable.HoldingRegisters, 16, Words.AsSpan(0, 2), t), "03 00 10 00 02", "03 04 11 22 33 44", "03 02 11 22"),
        new(0x04, (l, u, t) => l.ReadRegisters(u, ModbusTable.InputRegisters, 16, Words.AsSpan(0, 2), t), "04 00 10 00 02", "04 04 11 22 33 44", "04 06 11 22 33 44 55 66"),
        new(0x05, (l, u, t) => l.WriteCoil(u, 16, true, t), "05 00 10 FF 00", "05 00 10 FF 00", "05 00 10 00 00"),
        new(0x06, (l, u, t) => l.WriteRegister(u, 16, 7, t), "06 00 10 00 07", "06 00 10 00 07", "06 00 10 00 08"),
        new(0x07, (l, u, t) => l.ReadExceptionStatus(u, out _, t), "07", "07 6D", ""),
        new(0x08, (l, u, t) => l.ReturnQueryData(u, 0xA537, t), "08 00 00 A5 37", "08 00 00 A5 37", "08 00 00 A5 36"),
        new(0x0F, (l, u, t) => l.WriteCoils(u, 16, [true, false, true], t), "0F 00 10 00 03 01 05", "0F 00 10 00 03", "0F 00 11 00 03"),
        new(0x10, (l, u, t) => l.WriteRegisters(u, 16, [1, 2], t), "10 00 10 00 02 04 00 01 00 02", "10 00 10 00 02", "10 00 10 00 01"),
        new(0x16, (l, u, t) => l.MaskWriteRegister(u, 16, 0xF2, 0x25, t), "16 00 10 00 F2 00 25", "16 00 10 00 F2 00 25", "16 00 10 00 F2 00 24"),
        new(0x17, (l, u, t) => l.ReadWriteRegisters(u, 16, Words.AsSpan(0, 2), 20, [1], t), "17 00 10 00 02 00 14 00 01 02 00 01", "17 04 11 22 33 44", "17 02 11 22"),
        new(0x2B, (l, u, t) => l.ReadDeviceIdentification(u, DeviceIdAccess.Basic, 0, t, out _), "2B 0E 01 00", "2B 0E 01 81 00 00 01 00 02 41 42", "2B 0E 02 81 00 00 01 00 02 41 42"),
    ];

    /// <summary>True for a write, whose answer is an echo.</summary>
    public bool IsEchoed => Code is 5 or 6 or 8 or 15 or 16 or 22 or 43;

    public bool IsWrite => Code is 5 or 6 or 15 or 16 or 22;

    /// <summary>True where a late answer could not be told from the right one: nothing in it says which request it belongs to.</summary>
    public bool IsKeptApart => Code is 1 or 2 or 3 or 4 or 7 or 0x17 or 0x2B;

    public byte[] AnswerPdu => Hex.Bytes(Answer);

    public byte[] RequestPdu => Hex.Bytes(Request);

    /// <summary>Another function.</summary>
    public FunctionCase Other => Array.Find(All, f => f.Code == (Code == 4 ? 3 : 4))!;

    /// <summary>A right answer to another function.</summary>
    public byte[] OtherFunction => Hex.Bytes(Code == 4 ? "03 02 00 01" : "04 02 00 01");
}
