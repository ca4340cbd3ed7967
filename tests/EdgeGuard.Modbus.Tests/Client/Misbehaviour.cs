using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Modbus.Tests.Client;

/// <summary>One way an answer can be wrong, and what the client must make of it. The request is always: transaction 2, unit 1, two holding registers at 16, after transaction 1 was answered.</summary>
internal sealed record Misbehaviour(
    string Name, string[] Pieces, ClientStatus Status, ModbusOutcome Outcome, AnswerFault Fault = AnswerFault.None, int LateCount = 0)
{
    private const string Good = "00 02 00 00 00 07 01 03 04 11 22 33 44";
    private const string Late = "00 01 00 00 00 07 01 03 04 AA AA AA AA";

    public static readonly Misbehaviour[] All =
    [
        new("good", [Good], ClientStatus.Completed, ModbusOutcome.Good),
        new("late answer first", [Late, Good], ClientStatus.Completed, ModbusOutcome.Good, LateCount: 1),
        new("late answer glued in front", [Late + Good], ClientStatus.Completed, ModbusOutcome.Good, LateCount: 1),
        new("late answer twice", [Late + Late, Good], ClientStatus.Completed, ModbusOutcome.Good, LateCount: 2),
        new("only a late answer", [Late], ClientStatus.NeedMore, ModbusOutcome.None, LateCount: 1),
        new("late exception", ["00 01 00 00 00 03 01 83 02", Good], ClientStatus.Completed, ModbusOutcome.Good, LateCount: 1),
        new("byte by byte", [.. Good.Split(' ')], ClientStatus.Completed, ModbusOutcome.Good),
        new("split inside the header", ["00 02 00 00 00", "07 01 03 04 11 22 33 44"], ClientStatus.Completed, ModbusOutcome.Good),
        new("truncated", ["00 02 00 00 00 07 01 03 04 11 22 33"], ClientStatus.NeedMore, ModbusOutcome.None),
        new("nothing", [""], ClientStatus.NeedMore, ModbusOutcome.None),
        new("wrong unit", ["00 02 00 00 00 07 02 03 04 11 22 33 44"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.UnitId),
        new("exception of the wrong unit", ["00 02 00 00 00 03 02 83 02"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.UnitId),
        new("wrong function", ["00 02 00 00 00 07 01 04 04 11 22 33 44"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.Function),
        new("exception of the wrong function", ["00 02 00 00 00 03 01 84 02"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.Function),
        new("one register too few", ["00 02 00 00 00 05 01 03 02 11 22"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.PduLength),
        new("one register too many", ["00 02 00 00 00 09 01 03 06 11 22 33 44 55 66"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.PduLength),
        new("byte count right, bytes missing", ["00 02 00 00 00 05 01 03 04 11 22"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.PduLength),
        new("byte count right, bytes left over", ["00 02 00 00 00 08 01 03 04 11 22 33 44 55"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.PduLength),
        new("function without anything", ["00 02 00 00 00 02 01 03"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.PduLength),
        new("id of the future", ["00 03 00 00 00 07 01 03 04 11 22 33 44"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.TransactionId),
        new("id never sent", ["FF FF 00 00 00 07 01 03 04 11 22 33 44"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.TransactionId),
        new("protocol id", ["00 02 00 01 00 07 01 03 04 11 22 33 44"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.ProtocolId),
        new("protocol id, four bytes only", ["00 02 00 01"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.ProtocolId),
        new("length 0", ["00 02 00 00 00 00"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.FrameLength),
        new("length 1", ["00 02 00 00 00 01 01"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.FrameLength),
        new("length 255", ["00 02 00 00 00 FF 01"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.FrameLength),
        new("another protocol", ["48 54 54 50 2F 31 2E 31"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.ProtocolId),
        new("exception", ["00 02 00 00 00 03 01 83 02"], ClientStatus.Completed, ModbusOutcome.DeviceException),
        new("exception with a code nobody knows", ["00 02 00 00 00 03 01 83 77"], ClientStatus.Completed, ModbusOutcome.DeviceException),
        new("exception with code 0", ["00 02 00 00 00 03 01 83 00"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.ExceptionCode),
        new("exception with a tail", ["00 02 00 00 00 04 01 83 02 00"], ClientStatus.Broken, ModbusOutcome.BadAnswer, AnswerFault.PduLength),
    ];
}
