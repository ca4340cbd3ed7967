using System.Buffers.Binary;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Ring;

/// <summary>Decodes the copied bytes of a record; the other half of what <see cref="ScanRingWriter"/> writes.</summary>
internal static class RingRecordCodec
{
    public static void Decode(ReadOnlySpan<byte> bytes, ScanRingRecord record)
    {
        record.Scan = BinaryPrimitives.ReadInt64LittleEndian(bytes[RingLayout.ScanAt..]);
        record.UtcUnixMs = BinaryPrimitives.ReadInt64LittleEndian(bytes[RingLayout.UtcAt..]);
        record.Unit = BinaryPrimitives.ReadInt32LittleEndian(bytes[RingLayout.UnitAt..]);
        record.State = (UnitState)bytes[RingLayout.StateAt];
        record.FirstOut = (FunctionId)bytes[RingLayout.FirstOutAt];
        ushort flags = BinaryPrimitives.ReadUInt16LittleEndian(bytes[RingLayout.FlagsAt..]);
        record.Permit = (flags & RingLayout.PermitFlag) != 0;
        record.PendingDurable = (flags & RingLayout.PendingDurableFlag) != 0;
        record.RampHeld = (flags & RingLayout.RampHeldFlag) != 0;
        record.PowerProvedOff = (flags & RingLayout.PowerProvedOffFlag) != 0;
        record.ResetsTooOften = (flags & RingLayout.ResetsTooOftenFlag) != 0;
        record.LastTripClass = (TripClass)((flags >> RingLayout.TripClassShift) & RingLayout.TripClassMask);
        record.LastTrip = (FunctionId)(flags >> RingLayout.LastTripShift);
        record.LedSetpointC = BinaryPrimitives.ReadDoubleLittleEndian(bytes[RingLayout.LedSetpointAt..]);
        record.ElementSlopeKPerMin = BinaryPrimitives.ReadDoubleLittleEndian(bytes[RingLayout.ElementSlopeAt..]);
        record.CoolSlopeKPerMin = BinaryPrimitives.ReadDoubleLittleEndian(bytes[RingLayout.CoolSlopeAt..]);
        record.SitePowerKw = BinaryPrimitives.ReadDoubleLittleEndian(bytes[RingLayout.SitePowerAt..]);
        record.TripCount = BinaryPrimitives.ReadInt32LittleEndian(bytes[RingLayout.TripCountAt..]);
        record.FunctionsEvaluated = BinaryPrimitives.ReadInt32LittleEndian(bytes[RingLayout.EvaluatedAt..]);
        DecodeArrays(bytes, record);
    }

    public static GuardEvent DecodeEvent(ReadOnlySpan<byte> bytes) => new()
    {
        Sequence = BinaryPrimitives.ReadInt64LittleEndian(bytes[RingLayout.EventNumberAt..]),
        Scan = BinaryPrimitives.ReadInt64LittleEndian(bytes[RingLayout.EventScanAt..]),
        UtcUnixMs = BinaryPrimitives.ReadInt64LittleEndian(bytes[RingLayout.EventUtcAt..]),
        Unit = BinaryPrimitives.ReadInt32LittleEndian(bytes[RingLayout.EventUnitAt..]),
        Id = (EventId)BinaryPrimitives.ReadInt16LittleEndian(bytes[RingLayout.EventIdAt..]),
        Function = (FunctionId)bytes[RingLayout.EventFunctionAt],
        Reason = (RefusalReason)bytes[RingLayout.EventReasonAt],
        Value = BinaryPrimitives.ReadDoubleLittleEndian(bytes[RingLayout.EventValueAt..]),
        Limit = BinaryPrimitives.ReadDoubleLittleEndian(bytes[RingLayout.EventLimitAt..]),
        Detail = BinaryPrimitives.ReadInt64LittleEndian(bytes[RingLayout.EventDetailAt..]),
    };

    private static void DecodeArrays(ReadOnlySpan<byte> bytes, ScanRingRecord record)
    {
        ulong known = BinaryPrimitives.ReadUInt64LittleEndian(bytes[RingLayout.KnownMaskAt..]);
        for (int i = 0; i < SignalRoles.Count; i++)
        {
            ReadOnlySpan<byte> slot = bytes[(RingLayout.SignalsAt + (i * RingLayout.SignalBytes))..];
            record.Signals[i].Value = BinaryPrimitives.ReadDoubleLittleEndian(slot);
            record.Signals[i].Status = BinaryPrimitives.ReadUInt32LittleEndian(slot[8..]);
            record.Signals[i].AgeMs = BinaryPrimitives.ReadInt32LittleEndian(slot[12..]);
            record.Signals[i].Known = (known & (1UL << i)) != 0;
        }

        for (int i = 0; i < FunctionIds.Count; i++)
        {
            ReadOnlySpan<byte> slot = bytes[(RingLayout.FunctionsAt + (i * RingLayout.FunctionBytes))..];
            record.Functions[i].Value = BinaryPrimitives.ReadDoubleLittleEndian(slot);
            record.Functions[i].Limit = BinaryPrimitives.ReadDoubleLittleEndian(slot[8..]);
            record.Functions[i].SinceScan = BinaryPrimitives.ReadInt64LittleEndian(slot[16..]);
            record.Functions[i].State = (FunctionState)slot[24];
            record.Functions[i].Bypassed = slot[25] != 0;
            record.Functions[i].ForcedDemand = slot[26] != 0;
            record.Functions[i].BypassSecondsLeft = BinaryPrimitives.ReadInt32LittleEndian(slot[28..]);
            record.Counts[i].Demands = BinaryPrimitives.ReadInt32LittleEndian(slot[32..]);
            record.Counts[i].Trips = BinaryPrimitives.ReadInt32LittleEndian(slot[36..]);
            record.Counts[i].BypassedDemands = BinaryPrimitives.ReadInt32LittleEndian(slot[40..]);
            record.Counts[i].SpuriousTrips = BinaryPrimitives.ReadInt32LittleEndian(slot[44..]);
            record.Counts[i].ForcedDemands = BinaryPrimitives.ReadInt32LittleEndian(slot[48..]);
        }

        for (int i = 0; i < CommandRoles.Count; i++)
        {
            ReadOnlySpan<byte> slot = bytes[(RingLayout.CommandsAt + (i * RingLayout.CommandBytes))..];
            record.Commands[i].Value = BinaryPrimitives.ReadDoubleLittleEndian(slot);
            record.Commands[i].Write = (slot[8] & 1) != 0;
            record.Commands[i].DeEnergising = (slot[8] & 2) != 0;
        }

        for (int i = 0; i < record.Forced.Length; i++)
        {
            record.Forced[i] = DecodeForced(bytes[(RingLayout.ForcedAt + (i * RingLayout.ForcedBytes))..]);
        }
    }

    private static ForcedSignal DecodeForced(ReadOnlySpan<byte> slot)
    {
        bool active = slot[20] != 0;
        return new ForcedSignal
        {
            Active = active,
            Role = (SignalRole)slot[21],
            SecondsLeft = BinaryPrimitives.ReadInt32LittleEndian(slot[24..]),
            Demands = BinaryPrimitives.ReadInt32LittleEndian(slot[28..]),
            Real = new SignalValue
            {
                Value = BinaryPrimitives.ReadDoubleLittleEndian(slot),
                Status = BinaryPrimitives.ReadUInt32LittleEndian(slot[8..]),
                AgeMs = BinaryPrimitives.ReadInt32LittleEndian(slot[12..]),
                Known = active,
            },
        };
    }
}
