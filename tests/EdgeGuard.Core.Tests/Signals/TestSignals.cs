using EdgeGuard.Core.Signals;

namespace EdgeGuard.Core.Tests.Signals;

internal static class TestSignals
{
    public static SignalTable Table(WordType type, WordOrder order = WordOrder.None, int offset = 0) => new()
    {
        Role = SignalRole.ElementTemperature,
        Block = 0,
        WordOffset = offset,
        Type = type,
        Order = order,
        RangeMin = -1e12,
        RangeMax = 1e12,
        StaleMs = 500,
        HoldMs = 2000,
    };

    public static RawBlock Block(params ushort[] words) =>
        new() { Result = ReadResult.Good, AgeMs = 50, ReadCount = 1, Words = words };
}
