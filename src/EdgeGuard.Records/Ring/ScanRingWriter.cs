using System.Buffers.Binary;
using System.Text;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Ring;

/// <summary>
/// Writes each scan into a mapped file that any number of processes may read. Never waits, never allocates, takes no
/// lock: a reader that is too slow loses records and is told so, and a reader that hangs is not noticed at all. Every
/// record is guarded by its sequence word: odd while it is written, even and equal to 2 × ordinal + 2 when whole.
/// </summary>
public sealed class ScanRingWriter : IDisposable
{
    private readonly RingLayout _layout;
    private readonly RingMap _map;
    private long _scans;
    private long _events;

    /// <summary>Makes the file under a new name, takes all its pages, and puts it in place of an older one at once.</summary>
    /// <param name="options">What the ring is for.</param>
    public ScanRingWriter(ScanRingOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        byte[] names = RingNames.ToBytes(options.Site, options.LinkNames);
        _layout = new RingLayout(options.Site.Units.Count, options.ScanCapacity, options.EventCapacity, options.LinkNames.Count, names.Length);
        string made = options.Path + ".new";
        string? folder = System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(options.Path));
        Directory.CreateDirectory(folder!);
        AllocateOrDelete(made, _layout.FileBytes);
        _map = new RingMap(made, _layout.FileBytes, write: true);
        try
        {
            WriteHeader(options, names);
            // A reader of the file before keeps its own until it looks again; no mapped file is ever cut or rewritten.
            File.Move(made, options.Path, overwrite: true);
        }
        catch
        {
            _map.Dispose();
            throw;
        }
    }

    /// <summary>Scans written.</summary>
    public long ScansWritten => _scans;

    /// <summary>Writes one scan. Scan thread only.</summary>
    /// <param name="scan">Input of the scan.</param>
    /// <param name="output">Output of the scan.</param>
    /// <param name="live">Lateness, overruns and dropped recordings; the rest is filled here.</param>
    /// <param name="links">Figures of the links in the order of their names; empty leaves those written before.</param>
    /// <exception cref="ArgumentException">More links than the ring was made for.</exception>
    public void Write(RawScan scan, ScanOutput output, in ScanRingLive live, ReadOnlySpan<ScanRingLink> links = default)
    {
        ArgumentNullException.ThrowIfNull(scan);
        ArgumentNullException.ThrowIfNull(output);
        if (links.Length > _layout.LinkCount)
        {
            throw new ArgumentException("More links than the ring was made for.", nameof(links));
        }

        for (int unit = 0; unit < _layout.UnitCount; unit++)
        {
            WriteUnit(scan, output, unit);
        }

        for (int i = 0; i < output.EventCount; i++)
        {
            WriteEvent(output.Events[i]);
        }

        for (int link = 0; link < links.Length; link++)
        {
            RingLinkWords.Write(_map, _layout.LinkAt(link), links[link].Figures);
        }

        WriteLive(scan, live);
        _scans++;
        Volatile.Write(ref _map.Word(RingLayout.EventsWrittenAt), _events);
        Volatile.Write(ref _map.Word(RingLayout.ScansWrittenAt), _scans);
    }

    /// <summary>Writes what a unit was used for. Scan thread only.</summary>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="use">The figures.</param>
    public void WriteUse(int unit, in ScanRingUse use)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(unit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(unit, _layout.UnitCount);
        RingUseWords.Write(_map, _layout.UseAt(unit), use);
    }

    /// <summary>Writes the hours of the element in a temperature band. Scan thread only.</summary>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="band">Index of the band in <see cref="Kept.KeptRecord.BandsC"/>.</param>
    /// <param name="hours">Hours.</param>
    public void WriteBandHours(int unit, int band, double hours)
    {
        CheckBand(unit, band, _layout);
        RingUseWords.WriteBand(_map, _layout.UseAt(unit), band, hours);
    }

    internal static void CheckBand(int unit, int band, RingLayout layout)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(unit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(unit, layout.UnitCount);
        ArgumentOutOfRangeException.ThrowIfNegative(band);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(band, Kept.KeptRecord.BandsC.Count);
    }

    /// <summary>Writes who bypassed a function, before the scan in which the bypass takes effect. Scan thread only.</summary>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="function">The function.</param>
    /// <param name="person">Who; what does not fit in 118 bytes of UTF-8 is cut off.</param>
    public void WriteBypassPerson(int unit, FunctionId function, ReadOnlySpan<char> person)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(unit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(unit, _layout.UnitCount);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((int)function, FunctionIds.Count);
        RingPersons.Write(_map, _layout.PersonAt(unit, function), person);
    }

    /// <summary>Writes who forced a signal and why, before the scan in which the force takes effect. Scan thread only.</summary>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="role">The signal.</param>
    /// <param name="person">Who; what does not fit in 118 bytes of UTF-8 is cut off.</param>
    /// <param name="reason">Why; cut off likewise, the whole stands in the journal.</param>
    public void WriteForcer(int unit, SignalRole role, ReadOnlySpan<char> person, ReadOnlySpan<char> reason)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(unit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(unit, _layout.UnitCount);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((int)role, SignalRoles.Count);
        RingPersons.Write(_map, _layout.ForcerAt(unit, role), person);
        RingPersons.Write(_map, _layout.ForcerAt(unit, role) + RingLayout.PersonBytes, reason);
    }

    /// <summary>Writes who hid an alarm and why, before the scan that shows it hidden. Scan thread only.</summary>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="alarm">The function; None is the alarm of the trip.</param>
    /// <param name="person">Who; what does not fit in 102 bytes of UTF-8 is cut off.</param>
    /// <param name="reason">Why; what does not fit in 254 bytes of UTF-8 is cut off.</param>
    public void WriteHiddenAlarm(int unit, FunctionId alarm, ReadOnlySpan<char> person, ReadOnlySpan<char> reason)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(unit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(unit, _layout.UnitCount);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((int)alarm, FunctionIds.Count);
        RingAlarmWords.WriteHidden(_map, _layout.AlarmAt(unit, alarm), person, reason);
    }

    /// <inheritdoc/>
    public void Dispose() => _map.Dispose();

    // A file cut short by a full disk would take the last of it, which the journal needs more.
    private static void AllocateOrDelete(string path, long bytes)
    {
        try
        {
            Allocate(path, bytes);
        }
        catch
        {
            File.Delete(path);
            throw;
        }
    }

    private static void Allocate(string path, long bytes)
    {
        // Written, not only sized: a hole in the file would be filled by the kernel in the middle of a scan.
        using var stream = new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.None);
        byte[] zeros = new byte[1 << 16];
        for (long left = bytes; left > 0; left -= zeros.Length)
        {
            stream.Write(zeros, 0, (int)Math.Min(left, zeros.Length));
        }
    }

    private void WriteHeader(ScanRingOptions options, byte[] names)
    {
        Span<byte> header = _map.Span(0, RingLayout.HeaderBytes);
        ReadOnlySpan<(int At, int Value)> counts =
        [
            (RingLayout.VersionAt, RingLayout.Version), (RingLayout.UnitCountAt, _layout.UnitCount), (RingLayout.SignalCountAt, SignalRoles.Count),
            (RingLayout.FunctionCountAt, FunctionIds.Count), (RingLayout.CommandCountAt, CommandRoles.Count), (RingLayout.ScanMsAt, options.Site.ScanMs),
            (RingLayout.ScanCapacityAt, _layout.ScanCapacity), (RingLayout.EventCapacityAt, _layout.EventCapacity), (RingLayout.RecordBytesAt, RingLayout.RecordBytes),
            (RingLayout.EventBytesAt, RingLayout.EventBytes), (RingLayout.NamesBytesAt, names.Length),
            (RingLayout.LinkCountAt, _layout.LinkCount), (RingLayout.LinkBytesAt, RingLayout.LinkBytes), (RingLayout.LinkFigureCountAt, LinkFigureTexts.Count),
        ];
        foreach ((int at, int value) in counts)
        {
            BinaryPrimitives.WriteInt32LittleEndian(header[at..], value);
        }

        BinaryPrimitives.WriteInt64LittleEndian(header[RingLayout.StartUtcAt..], options.StartUtcUnixMs);
        _ = Encoding.ASCII.GetBytes(options.RunId, header.Slice(RingLayout.RunIdAt, RingLayout.RunIdBytes));
        options.SiteDigest.Span.CopyTo(header.Slice(RingLayout.DigestAt, RingLayout.DigestBytes));
        names.CopyTo(_map.Span(RingLayout.HeaderBytes, names.Length));
        Volatile.Write(ref _map.Word(RingLayout.MagicAt), (long)RingLayout.Magic); // last: without it no reader opens
    }

    private void WriteUnit(RawScan scan, ScanOutput output, int unit)
    {
        long at = _layout.RecordAt(_scans, unit);
        ref long sequence = ref _map.Word(at);
        BeginRecord(ref sequence, _scans);
        Span<byte> record = _map.Span(at, RingLayout.RecordBytes);
        UnitDecision decision = output.Units[unit];
        BinaryPrimitives.WriteInt64LittleEndian(record[RingLayout.ScanAt..], scan.Scan);
        BinaryPrimitives.WriteInt64LittleEndian(record[RingLayout.UtcAt..], scan.UtcUnixMs);
        BinaryPrimitives.WriteInt32LittleEndian(record[RingLayout.UnitAt..], unit);
        record[RingLayout.StateAt] = (byte)decision.State;
        record[RingLayout.FirstOutAt] = (byte)decision.FirstOut;
        BinaryPrimitives.WriteUInt16LittleEndian(record[RingLayout.FlagsAt..], Flags(decision));
        BinaryPrimitives.WriteDoubleLittleEndian(record[RingLayout.LedSetpointAt..], decision.LedSetpointC);
        BinaryPrimitives.WriteDoubleLittleEndian(record[RingLayout.ElementSlopeAt..], decision.ElementSlopeKPerMin);
        BinaryPrimitives.WriteDoubleLittleEndian(record[RingLayout.CoolSlopeAt..], decision.CoolSlopeKPerMin);
        BinaryPrimitives.WriteDoubleLittleEndian(record[RingLayout.SitePowerAt..], output.SitePowerKw);
        BinaryPrimitives.WriteInt32LittleEndian(record[RingLayout.TripCountAt..], decision.TripCount);
        BinaryPrimitives.WriteInt32LittleEndian(record[RingLayout.EvaluatedAt..], decision.FunctionsEvaluated);
        WriteSignals(record, decision.Image);
        WriteFunctions(record, decision.Functions, decision.Counts);
        WriteCommands(record, decision.Commands);
        WriteForced(record, decision.Forced);
        EndRecord(ref sequence, _scans);
        for (int alarm = 0; alarm < FunctionIds.Count; alarm++)
        {
            RingAlarmWords.Write(_map, _layout.AlarmAt(unit, (FunctionId)alarm), in decision.Alarms[alarm]);
        }
    }

    private static void WriteSignals(Span<byte> record, ScanImage image)
    {
        ulong known = 0;
        for (int role = 0; role < SignalRoles.Count; role++)
        {
            ref SignalValue signal = ref image[(SignalRole)role];
            Span<byte> slot = record[(RingLayout.SignalsAt + (role * RingLayout.SignalBytes))..];
            BinaryPrimitives.WriteDoubleLittleEndian(slot, signal.Value);
            BinaryPrimitives.WriteUInt32LittleEndian(slot[8..], signal.Status);
            BinaryPrimitives.WriteInt32LittleEndian(slot[12..], signal.AgeMs);
            known |= signal.Known ? 1UL << role : 0;
        }

        BinaryPrimitives.WriteUInt64LittleEndian(record[RingLayout.KnownMaskAt..], known);
    }

    private static void WriteFunctions(Span<byte> record, FunctionStatus[] functions, FunctionCounts[] counts)
    {
        for (int id = 0; id < FunctionIds.Count; id++)
        {
            ref FunctionStatus function = ref functions[id];
            Span<byte> slot = record[(RingLayout.FunctionsAt + (id * RingLayout.FunctionBytes))..];
            BinaryPrimitives.WriteDoubleLittleEndian(slot, function.Value);
            BinaryPrimitives.WriteDoubleLittleEndian(slot[8..], function.Limit);
            BinaryPrimitives.WriteInt64LittleEndian(slot[16..], function.SinceScan);
            slot[24] = (byte)function.State;
            slot[25] = function.Bypassed ? (byte)1 : (byte)0;
            slot[26] = function.ForcedDemand ? (byte)1 : (byte)0;
            BinaryPrimitives.WriteInt32LittleEndian(slot[28..], function.BypassSecondsLeft);
            BinaryPrimitives.WriteInt32LittleEndian(slot[32..], counts[id].Demands);
            BinaryPrimitives.WriteInt32LittleEndian(slot[36..], counts[id].Trips);
            BinaryPrimitives.WriteInt32LittleEndian(slot[40..], counts[id].BypassedDemands);
            BinaryPrimitives.WriteInt32LittleEndian(slot[44..], counts[id].SpuriousTrips);
            BinaryPrimitives.WriteInt32LittleEndian(slot[48..], counts[id].ForcedDemands);
        }
    }

    private static void WriteCommands(Span<byte> record, CommandDecision[] commands)
    {
        for (int role = 0; role < CommandRoles.Count; role++)
        {
            ref CommandDecision command = ref commands[role];
            Span<byte> slot = record[(RingLayout.CommandsAt + (role * RingLayout.CommandBytes))..];
            BinaryPrimitives.WriteDoubleLittleEndian(slot, command.Value);
            slot[8] = (byte)((command.Write ? 1 : 0) | (command.DeEnergising ? 2 : 0));
        }
    }

    private static void WriteForced(Span<byte> record, ForcedSignal[] signals)
    {
        for (int i = 0; i < signals.Length; i++)
        {
            ref ForcedSignal forced = ref signals[i];
            Span<byte> slot = record[(RingLayout.ForcedAt + (i * RingLayout.ForcedBytes))..];
            BinaryPrimitives.WriteDoubleLittleEndian(slot, forced.Real.Value);
            BinaryPrimitives.WriteUInt32LittleEndian(slot[8..], forced.Real.Status);
            BinaryPrimitives.WriteInt32LittleEndian(slot[12..], forced.Real.AgeMs);
            slot[20] = forced.Active ? (byte)1 : (byte)0;
            slot[21] = (byte)forced.Role;
            BinaryPrimitives.WriteInt32LittleEndian(slot[24..], forced.SecondsLeft);
            BinaryPrimitives.WriteInt32LittleEndian(slot[28..], forced.Demands);
        }
    }

    private void WriteEvent(in GuardEvent e)
    {
        long at = _layout.EventAt(_events);
        ref long sequence = ref _map.Word(at);
        BeginRecord(ref sequence, _events);
        Span<byte> slot = _map.Span(at, RingLayout.EventBytes);
        BinaryPrimitives.WriteInt64LittleEndian(slot[RingLayout.EventNumberAt..], e.Sequence);
        BinaryPrimitives.WriteInt64LittleEndian(slot[RingLayout.EventScanAt..], e.Scan);
        BinaryPrimitives.WriteInt64LittleEndian(slot[RingLayout.EventUtcAt..], e.UtcUnixMs);
        BinaryPrimitives.WriteInt32LittleEndian(slot[RingLayout.EventUnitAt..], e.Unit);
        BinaryPrimitives.WriteInt16LittleEndian(slot[RingLayout.EventIdAt..], (short)e.Id);
        slot[RingLayout.EventFunctionAt] = (byte)e.Function;
        slot[RingLayout.EventReasonAt] = (byte)e.Reason;
        BinaryPrimitives.WriteDoubleLittleEndian(slot[RingLayout.EventValueAt..], e.Value);
        BinaryPrimitives.WriteDoubleLittleEndian(slot[RingLayout.EventLimitAt..], e.Limit);
        BinaryPrimitives.WriteInt64LittleEndian(slot[RingLayout.EventDetailAt..], e.Detail);
        EndRecord(ref sequence, _events);
        _events++;
    }

    private void WriteLive(RawScan scan, in ScanRingLive live)
    {
        Volatile.Write(ref _map.Word(RingLayout.HeartbeatTickAt), Environment.TickCount64);
        Volatile.Write(ref _map.Word(RingLayout.HeartbeatUtcAt), scan.UtcUnixMs);
        Volatile.Write(ref _map.Word(RingLayout.AllocatedBytesAt), GC.GetTotalAllocatedBytes(precise: false));
        Volatile.Write(ref _map.Word(RingLayout.LatenessLastAt), live.LatenessLastUs);
        Volatile.Write(ref _map.Word(RingLayout.LatenessMaxAt), live.LatenessMaxUs);
        Volatile.Write(ref _map.Word(RingLayout.OverrunsAt), live.Overruns);
        Volatile.Write(ref _map.Word(RingLayout.JournalHealthAt), (long)scan.Journal);
        Volatile.Write(ref _map.Word(RingLayout.DurableEventAt), scan.DurableEvent);
        Volatile.Write(ref _map.Word(RingLayout.TailDroppedAt), live.TailDropped);
        WriteAlarms(live);
    }

    private void WriteAlarms(in ScanRingLive live)
    {
        Volatile.Write(ref _map.Word(RingLayout.AlarmsTotalAt), live.AlarmsTotal);
        Volatile.Write(ref _map.Word(RingLayout.AlarmsInTenMinutesAt), live.AlarmsInTenMinutes);
        Volatile.Write(ref _map.Word(RingLayout.AlarmsMostInTenMinutesAt), live.AlarmsMostInTenMinutes);
        Volatile.Write(ref _map.Word(RingLayout.AlarmsAverageInTenMinutesAt), BitConverter.DoubleToInt64Bits(live.AlarmsAverageInTenMinutes));
        Volatile.Write(ref _map.Word(RingLayout.AlarmFloodAt), live.AlarmFlood ? 1 : 0);
        Volatile.Write(ref _map.Word(RingLayout.AlarmFloodsAt), live.AlarmFloods);
        Volatile.Write(ref _map.Word(RingLayout.AlarmFloodPercentAt), BitConverter.DoubleToInt64Bits(live.AlarmFloodPercent));
        RingAlarmWords.WriteCounts(_map, live);
    }

    private static ushort Flags(UnitDecision decision) => (ushort)(
        (decision.Permit ? RingLayout.PermitFlag : 0) | (decision.PendingDurable ? RingLayout.PendingDurableFlag : 0)
        | (decision.RampHeld ? RingLayout.RampHeldFlag : 0) | (decision.PowerProvedOff ? RingLayout.PowerProvedOffFlag : 0)
        | (decision.ResetsTooOften ? RingLayout.ResetsTooOftenFlag : 0) | ((int)decision.LastTripClass << RingLayout.TripClassShift)
        | ((int)decision.LastTrip << RingLayout.LastTripShift));

    // The full fence keeps the fields from becoming visible before the odd mark.
    private static void BeginRecord(ref long sequence, long ordinal)
    {
        Volatile.Write(ref sequence, (2 * ordinal) + 1);
        Interlocked.MemoryBarrier();
    }

    private static void EndRecord(ref long sequence, long ordinal) => Volatile.Write(ref sequence, (2 * ordinal) + 2);
}
