using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Tests.Rtu;

namespace EdgeGuard.Modbus.Tests.Misbehaving;

/// <summary>
/// One way a device can answer wrongly, and what the client must make of it, whatever the function. The request that
/// is answered is the second; the first was answered well, or not at all where the fault says so.
/// </summary>
/// <param name="Name">As printed in docs/reference/modbus.md.</param>
/// <param name="Pieces">What the device sends, piece by piece; empty for a function this fault cannot befall.</param>
/// <param name="Outcome">What the transaction ends as.</param>
/// <param name="Counters">The counters that the fault moves by one beside that of the outcome.</param>
/// <param name="Before">What became of the request before.</param>
internal sealed record ClientFault(
    string Name, Func<FunctionCase, byte[][]> Pieces, ModbusOutcome Outcome, LinkCounter[]? Counters = null, RequestBefore Before = RequestBefore.Answered)
{
    /// <summary>True when the connection, or the line, breaks after the pieces.</summary>
    public bool Closes { get; init; }

    /// <summary>What comes behind the answer to the request before, when nothing is asked (RTU).</summary>
    public byte[][] Stray(FunctionCase function) => StrayOf?.Invoke(function) ?? [];

    private Func<FunctionCase, byte[][]>? StrayOf { get; init; }

    private const int Id = 2;
    private const byte Unit = 1;

    /// <summary>Over Modbus TCP: the request has transaction id 2.</summary>
    public static readonly ClientFault[] Tcp =
    [
        new("right answer", f => [Tcp2(f)], ModbusOutcome.Good),
        new("split: byte by byte", f => [.. Tcp2(f).Chunk(1)], ModbusOutcome.Good, [LinkCounter.SplitAnswers]),
        new("repeated: the answer to the request before, once more", f => [Hex.Frame(1, Unit, f.AnswerPdu), Tcp2(f)], ModbusOutcome.Good, [LinkCounter.LateAnswers, LinkCounter.DuplicateAnswers]),
        new("glued: that and the right answer in one piece", f => [[.. Hex.Frame(1, Unit, f.AnswerPdu), .. Tcp2(f)]], ModbusOutcome.Good, [LinkCounter.LateAnswers, LinkCounter.DuplicateAnswers, LinkCounter.GluedAnswers]),
        new("duplicate: the right answer twice", f => [[.. Tcp2(f), .. Tcp2(f)]], ModbusOutcome.Good, [LinkCounter.GluedAnswers]),
        .. Exceptions(static (f, code) => Hex.Frame(Id, Unit, (byte)(f.Code | 0x80), code)),
        new("exception with a code nobody knows", f => [Hex.Frame(Id, Unit, (byte)(f.Code | 0x80), 0x77)], ModbusOutcome.DeviceException, [LinkCounter.OtherExceptions]),
        new("exception 00", f => [Hex.Frame(Id, Unit, (byte)(f.Code | 0x80), 0)], ModbusOutcome.BadAnswer, [LinkCounter.Malformed]),
        new("exception of another function", f => [Hex.Frame(Id, Unit, (byte)(f.OtherFunction[0] | 0x80), 2)], ModbusOutcome.BadAnswer, [LinkCounter.WrongFunction]),
        new("wrong unit", f => [Hex.Frame(Id, 2, f.AnswerPdu)], ModbusOutcome.BadAnswer, [LinkCounter.WrongUnit]),
        new("wrong function", f => [Hex.Frame(Id, Unit, f.OtherFunction)], ModbusOutcome.BadAnswer, [LinkCounter.WrongFunction]),
        new("wrong length: one byte missing", f => [Hex.Frame(Id, Unit, f.AnswerPdu[..^1])], ModbusOutcome.BadAnswer, [LinkCounter.WrongLength]),
        new("wrong length: one byte left over", f => [Hex.Frame(Id, Unit, [.. f.AnswerPdu, 0])], ModbusOutcome.BadAnswer, [LinkCounter.WrongLength]),
        new("wrong byte count (reads)", f => f.IsEchoed || f.Altered.Length == 0 ? [] : [Hex.Frame(Id, Unit, Hex.Bytes(f.Altered))], ModbusOutcome.BadAnswer, [LinkCounter.WrongLength]),
        new("wrong echo (writes, 08, 43)", f => f.IsEchoed ? [Hex.Frame(Id, Unit, Hex.Bytes(f.Altered))] : [], ModbusOutcome.BadAnswer, [LinkCounter.WrongEcho]),
        new("truncated: the last byte does not come", f => [Tcp2(f)[..^1]], ModbusOutcome.Timeout, [LinkCounter.TruncatedAnswers]),
        new("nothing", _ => [[]], ModbusOutcome.Timeout, [LinkCounter.SilentClosings]),
        new("closed in place of an answer", _ => [[]], ModbusOutcome.ConnectionLost) { Closes = true },
        new("closed in the middle of an answer", f => [Tcp2(f)[..^1]], ModbusOutcome.ConnectionLost) { Closes = true },
        new("transaction id of the future", f => [Hex.Frame(3, Unit, f.AnswerPdu)], ModbusOutcome.BadAnswer, [LinkCounter.WrongTransaction]),
        new("transaction id 0", f => [Hex.Frame(0, Unit, f.AnswerPdu)], ModbusOutcome.BadAnswer, [LinkCounter.WrongTransaction]),
        new("protocol id not 0", f => [[0, Id, 0, 1, .. Tcp2(f)[4..]]], ModbusOutcome.BadAnswer, [LinkCounter.Malformed]),
        new("length field 1", f => [[0, Id, 0, 0, 0, 1, Unit, .. f.AnswerPdu]], ModbusOutcome.BadAnswer, [LinkCounter.Malformed]),
        new("length field 255", f => [[0, Id, 0, 0, 0, 0xFF, Unit, .. f.AnswerPdu]], ModbusOutcome.BadAnswer, [LinkCounter.Malformed]),
    ];

    /// <summary>Over Modbus TCP with a device whose transaction id is always 0, as the option says.</summary>
    public static readonly ClientFault[] TcpZero =
    [
        new("transaction id 0, by option", f => [Hex.Frame(0, Unit, f.AnswerPdu)], ModbusOutcome.Good, [LinkCounter.ZeroTransactionIds]),
        new("transaction id 0, by option, wrong unit", f => [Hex.Frame(0, 2, f.AnswerPdu)], ModbusOutcome.BadAnswer, [LinkCounter.WrongUnit]),
        new("transaction id 0, by option, wrong function", f => [Hex.Frame(0, Unit, f.OtherFunction)], ModbusOutcome.BadAnswer, [LinkCounter.WrongFunction]),
    ];

    /// <summary>On an RTU line, serial or inside TCP.</summary>
    public static readonly ClientFault[] Rtu =
    [
        new("right answer", f => [Rtu1(f)], ModbusOutcome.Good),
        new("split: byte by byte", f => [.. Rtu1(f).Chunk(1)], ModbusOutcome.Good, [LinkCounter.SplitAnswers]),
        new("late: the answer that another unit owed, before the right one", f => [RtuFrame.Of(2, f.AnswerPdu), Rtu1(f)], ModbusOutcome.Good, [LinkCounter.LateAnswers], RequestBefore.OtherUnitSilent),
        new("late: the answer that the unit owed to another function, before the right one", f => [RtuFrame.Of(Unit, f.Other.AnswerPdu), Rtu1(f)], ModbusOutcome.Good, [LinkCounter.LateAnswers], RequestBefore.OtherFunctionSilent),
        new("duplicate: the right answer twice", f => [[.. Rtu1(f), .. Rtu1(f)]], ModbusOutcome.Good, [LinkCounter.GluedAnswers]),
        .. Exceptions(static (f, code) => RtuFrame.Of(Unit, (byte)(f.Code | 0x80), code)),
        new("exception with a code nobody knows", f => [RtuFrame.Of(Unit, (byte)(f.Code | 0x80), 0x77)], ModbusOutcome.DeviceException, [LinkCounter.OtherExceptions]),
        new("exception 00", f => [RtuFrame.Of(Unit, (byte)(f.Code | 0x80), 0)], ModbusOutcome.BadAnswer, [LinkCounter.Malformed]),
        new("exception of another function", f => [RtuFrame.Of(Unit, (byte)(f.OtherFunction[0] | 0x80), 2)], ModbusOutcome.BadAnswer, [LinkCounter.WrongFunction]),
        new("wrong unit", f => [RtuFrame.Of(2, f.AnswerPdu)], ModbusOutcome.BadAnswer, [LinkCounter.WrongUnit]),
        new("wrong function", f => [RtuFrame.Of(Unit, f.OtherFunction)], ModbusOutcome.BadAnswer, [LinkCounter.WrongFunction]),
        new("function nobody knows", _ => [RtuFrame.Of(Unit, 0x63, 1, 2, 3)], ModbusOutcome.BadAnswer, [LinkCounter.Malformed]),
        new("wrong length: one byte missing", f => [RtuFrame.Of(Unit, f.AnswerPdu[..^1])], ModbusOutcome.Timeout, [LinkCounter.TruncatedAnswers]),
        new("wrong length: one byte left over", f => [RtuFrame.Of(Unit, [.. f.AnswerPdu, 0])], ModbusOutcome.BadAnswer, [LinkCounter.ChecksumErrors]),
        new("wrong byte count (reads)", f => f.IsEchoed || f.Altered.Length == 0 ? [] : [RtuFrame.Of(Unit, Hex.Bytes(f.Altered))], ModbusOutcome.BadAnswer, [LinkCounter.WrongLength]),
        new("wrong echo (writes, 08, 43)", f => f.IsEchoed ? [RtuFrame.Of(Unit, Hex.Bytes(f.Altered))] : [], ModbusOutcome.BadAnswer, [LinkCounter.WrongEcho]),
        new("byte count beyond any frame (reads)", f => f.Code is 1 or 2 or 3 or 4 or 0x17 ? [[Unit, f.Code, 0xFF, 0, 0]] : [], ModbusOutcome.BadAnswer, [LinkCounter.Malformed]),
        new("wrong CRC", f => [[.. Rtu1(f)[..^1], (byte)(Rtu1(f)[^1] ^ 1)]], ModbusOutcome.BadAnswer, [LinkCounter.ChecksumErrors]),
        new("truncated: the last byte does not come", f => [Rtu1(f)[..^1]], ModbusOutcome.Timeout, [LinkCounter.TruncatedAnswers]),
        new("nothing", _ => [[]], ModbusOutcome.Timeout),
        new("nothing, to the same read as before", f => f.IsKeptApart ? [[]] : [], ModbusOutcome.Timeout, [LinkCounter.DeferredRequests], RequestBefore.SameSilent),
        new("closed in place of an answer", _ => [[]], ModbusOutcome.ConnectionLost) { Closes = true },
        new("repeated: the answer to the request before, once more", f => [Rtu1(f)], ModbusOutcome.Good, [LinkCounter.LateAnswers, LinkCounter.DuplicateAnswers]) { StrayOf = static f => [Rtu1(f)] },
        new("noise: a byte before the request", f => [Rtu1(f)], ModbusOutcome.Good, [LinkCounter.NoiseBytes]) { StrayOf = static _ => [[0xFF]] },
        new("noise: two bytes before the right answer", f => [[0xFF, 0xFF, .. Rtu1(f)]], ModbusOutcome.BadAnswer, [LinkCounter.ChecksumErrors]),
    ];

    // Codes and names of V1.1b3, section 7; in the order of the codes, which is that of the counters.
    private static IEnumerable<ClientFault> Exceptions(Func<FunctionCase, byte, byte[]> frame) =>
        new (byte Code, LinkCounter Counter)[]
        {
            (0x01, LinkCounter.Exception01), (0x02, LinkCounter.Exception02), (0x03, LinkCounter.Exception03), (0x04, LinkCounter.Exception04), (0x05, LinkCounter.Exception05),
            (0x06, LinkCounter.Exception06), (0x08, LinkCounter.Exception08), (0x0A, LinkCounter.Exception0A), (0x0B, LinkCounter.Exception0B),
        }.Select(e => new ClientFault($"exception {e.Code:X2}", f => [frame(f, e.Code)], ModbusOutcome.DeviceException, [e.Counter]));

    private static byte[] Tcp2(FunctionCase f) => Hex.Frame(Id, Unit, f.AnswerPdu);

    private static byte[] Rtu1(FunctionCase f) => RtuFrame.Of(Unit, f.AnswerPdu);
}
