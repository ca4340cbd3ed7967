using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Tests.Rtu;

namespace EdgeGuard.Modbus.Tests.Misbehaving;

/// <summary>One way a client can ask wrongly, and what the server must make of it, whatever the function.</summary>
/// <param name="Name">As printed in docs/reference/modbus.md.</param>
/// <param name="Pieces">What the client sends, piece by piece; empty for a function this fault cannot befall.</param>
/// <param name="Answers">PDUs of the answers, in order.</param>
/// <param name="Counters">The counters the fault moves beside the connections.</param>
/// <param name="IsClosed">True when the server closes the connection (TCP).</param>
internal sealed record ServerFault(
    string Name, Func<FunctionCase, byte[][]> Pieces, Func<FunctionCase, string[]> Answers, ServerCounters Counters, bool IsClosed = false)
{
    private const byte Unit = 1;
    private static readonly ServerCounters Answered = new() { Answered = 1 };
    private static readonly ServerCounters Refused = new() { Refused = 1 };

    /// <summary>Over Modbus TCP.</summary>
    public static readonly ServerFault[] Tcp =
    [
        new("right request", f => [Mbap(f.RequestPdu)], f => [f.Answer], Answered),
        new("split: byte by byte", f => [.. Mbap(f.RequestPdu).Chunk(1)], f => [f.Answer], Answered),
        new("glued: two requests in one piece", f => [[.. Mbap(f.RequestPdu), .. Mbap(f.RequestPdu)]], f => [f.Answer, f.Answer], new() { Answered = 2 }),
        new("unknown unit", f => [Hex.Frame(9, 77, f.RequestPdu)], f => [Exception(f, 0x0A)], Refused),
        new("unknown function", _ => [Mbap([0x63, 0, 0, 0, 1])], _ => ["E3 01"], Refused),
        new("wrong length: one byte missing", f => f.Code == 7 ? [] : [Mbap(f.RequestPdu[..^1])], f => [Exception(f, 3)], Refused),
        new("wrong length: one byte left over", f => [Mbap([.. f.RequestPdu, 0])], f => [Exception(f, 3)], Refused),
        new("address that is not there", f => HasAddress(f) ? [Mbap(Elsewhere(f))] : [], f => [Exception(f, 2)], Refused),
        new("quantity 0", f => HasQuantity(f) ? [Mbap(Quantity(f, 0))] : [], f => [Exception(f, 3)], Refused),
        new("quantity beyond the limit", f => HasQuantity(f) ? [Mbap(Quantity(f, 0xFF))] : [], f => [Exception(f, 3)], Refused),
        new("function 128 to 255, which only answers have", _ => [Mbap([0xE3, 1, 2, 3])], _ => ["E3 01"], Refused),
        new("protocol id not 0", f => [[0, 9, 0, 1, .. Mbap(f.RequestPdu)[4..]]], _ => [], new() { Malformed = 1 }, IsClosed: true),
        new("length field 1", f => [[0, 9, 0, 0, 0, 1, Unit, .. f.RequestPdu]], _ => [], new() { Malformed = 1 }, IsClosed: true),
        new("length field 255", f => [[0, 9, 0, 0, 0, 0xFF, Unit, .. f.RequestPdu]], _ => [], new() { Malformed = 1 }, IsClosed: true),
        new("truncated: the last byte does not come", f => [Mbap(f.RequestPdu)[..^1]], _ => [], default, IsClosed: true),
    ];

    /// <summary>On an RTU line.</summary>
    public static readonly ServerFault[] Rtu =
    [
        new("right request", f => [RtuFrame.Of(Unit, f.RequestPdu)], f => [f.Answer], Answered),
        new("split: byte by byte", f => [.. RtuFrame.Of(Unit, f.RequestPdu).Chunk(1)], f => [f.Answer], Answered),
        new("glued: two requests in one piece", f => [[.. RtuFrame.Of(Unit, f.RequestPdu), .. RtuFrame.Of(Unit, f.RequestPdu)]], f => [f.Answer, f.Answer], new() { Answered = 2 }),
        new("another unit's request", f => [RtuFrame.Of(77, f.RequestPdu)], _ => [], new() { Discarded = 1 }),
        new("another unit's answer", f => [RtuFrame.Of(77, f.AnswerPdu)], _ => [], new() { Discarded = 1 }),
        new("function 128 to 255, which only answers have", _ => [RtuFrame.Of(Unit, 0xE3, 1, 2, 3)], _ => [], new() { Discarded = 1 }),
        new("broadcast of a write", f => f.IsWrite ? [RtuFrame.Of(0, f.RequestPdu)] : [], _ => [], new() { Broadcasts = 1 }),
        new("broadcast of a read", f => f.IsWrite ? [] : [RtuFrame.Of(0, f.RequestPdu)], _ => [], new() { Discarded = 1 }),
        new("unknown function", _ => [RtuFrame.Of(Unit, 0x63, 0, 0, 0, 1)], _ => ["E3 01"], Refused),
        new("wrong length: one byte missing", f => f.Code == 7 ? [] : [RtuFrame.Of(Unit, f.RequestPdu[..^1])], f => [Exception(f, 3)], Refused),
        // Not 07: with one byte more its request is its answer, which a server must not answer: it may be hearing itself.
        new("wrong length: one byte left over", f => f.Code == 7 ? [] : [RtuFrame.Of(Unit, [.. f.RequestPdu, 0])], f => [Exception(f, 3)], Refused),
        new("address that is not there", f => HasAddress(f) ? [RtuFrame.Of(Unit, Elsewhere(f))] : [], f => [Exception(f, 2)], Refused),
        new("quantity 0", f => HasQuantity(f) ? [RtuFrame.Of(Unit, Quantity(f, 0))] : [], f => [Exception(f, 3)], Refused),
        new("quantity beyond the limit", f => HasQuantity(f) ? [RtuFrame.Of(Unit, Quantity(f, 0xFF))] : [], f => [Exception(f, 3)], Refused),
        new("wrong CRC", f => [[.. RtuFrame.Of(Unit, f.RequestPdu)[..^1], (byte)(RtuFrame.Of(Unit, f.RequestPdu)[^1] ^ 1)]], _ => [], new() { Malformed = 1 }),
        new("truncated: the last byte does not come", f => [RtuFrame.Of(Unit, f.RequestPdu)[..^1]], _ => [], new() { Malformed = 1 }),
        new("noise", _ => [[0xFF, 0x00, 0x81]], _ => [], new() { Malformed = 1 }),
    ];

    /// <summary>A device that gives the answers of <see cref="FunctionCase"/> and ends at address 100.</summary>
    public static DiagnosticMemoryDevice Device()
    {
        DiagnosticMemoryDevice device = new(100) { Status = 0x6D };
        (device.Coils[16], device.Coils[18], device.DiscreteInputs[16], device.DiscreteInputs[18]) = (true, true, true, true);
        (device.HoldingRegisters[16], device.HoldingRegisters[17]) = (0x1122, 0x3344);
        (device.InputRegisters[16], device.InputRegisters[17]) = (0x1122, 0x3344);
        device.Objects.Clear();
        device.Objects[0] = "AB"u8.ToArray();
        return device;
    }

    private static byte[] Mbap(byte[] pdu) => Hex.Frame(9, Unit, pdu);

    private static string Exception(FunctionCase f, byte code) => Hex.Text([(byte)(f.Code | 0x80), code]);

    private static bool HasAddress(FunctionCase f) => f.Code is not (7 or 8 or 0x2B);

    private static bool HasQuantity(FunctionCase f) => f.Code is 1 or 2 or 3 or 4 or 15 or 16 or 0x17;

    // In each of them the (first) quantity stands behind the (first) address; FFFF is beyond every limit.
    private static byte[] Quantity(FunctionCase f, byte twice) => [.. f.RequestPdu[..3], twice, twice, .. f.RequestPdu[5..]];

    private static byte[] Elsewhere(FunctionCase f) => [f.RequestPdu[0], 0x40, 0, .. f.RequestPdu[3..]];
}
