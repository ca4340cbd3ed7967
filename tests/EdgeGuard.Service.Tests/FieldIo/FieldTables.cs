using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>A link with two poll requests and three written points (invented figures).</summary>
internal static class FieldTables
{
    public const int ScanMs = 20;

    public static LinkTable Link(string name = "cabinet", int firstBlock = 0, int unit = 0) => new()
    {
        Name = name,
        ScanMs = ScanMs,
        PollLeadMs = 5,
        TimeoutMs = 100,
        ConnectTimeoutMs = 100,
        ReconnectMinMs = 1,
        ReconnectMaxMs = 5,
        Polls = [Poll(firstBlock, 0, 4), Poll(firstBlock + 1, 10, 2)],
        Writes =
        [
            Point(unit, CommandRole.Heartbeat, 0, WordType.UInt16, 1),
            Point(unit, CommandRole.Relay, 1, WordType.UInt16, 1),
            Point(unit, CommandRole.Setpoint, 5, WordType.Float32, 1),
            Point(unit, CommandRole.BlowerDemand, 7, WordType.Int16, 0.1) with { Min = 0, Max = 100 },
        ],
    };

    public static CommandDecision Energise(double value) => new() { Value = value, Write = true };

    public static CommandDecision DeEnergise(double value) => new() { Value = value, Write = true, DeEnergising = true };

    private static PollRequestTable Poll(int block, ushort address, int count) =>
        new() { Block = block, UnitId = 1, Table = ModbusTable.HoldingRegisters, Address = address, Count = count };

    private static WritePointTable Point(int unit, CommandRole role, ushort address, WordType type, double scale) => new()
    {
        Unit = unit,
        Role = role,
        UnitId = 1,
        Table = ModbusTable.HoldingRegisters,
        Address = address,
        Type = type,
        Order = WordOrder.Abcd,
        Scale = scale,
    };
}
