using System.Buffers.Binary;
using System.Text;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;

namespace EdgeGuard.Records.Ring;

/// <summary>
/// Reads a ring, also from another process, without the writer noticing. A record is copied and believed only when its
/// sequence word is the same and even before and after; an overwritten one is reported as lost, never guessed.
/// </summary>
public sealed class ScanRingReader : IDisposable
{
    private readonly string _path;
    private readonly RingLayout _layout;
    private readonly RingMap _map;
    private readonly byte[] _copy = new byte[RingLayout.RecordBytes];

    /// <summary>Opens a ring.</summary>
    /// <param name="path">The ring file.</param>
    /// <exception cref="InvalidDataException">The file is no ring of this version; the message says what differs.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public ScanRingReader(string path)
    {
        _path = path;
        byte[] header = ReadHeader(path, out long fileBytes);
        _layout = Check(path, header, fileBytes);
        _map = new RingMap(path, fileBytes, write: false);
        RunId = ReadRunId(header);
        SiteDigest = header.AsSpan(RingLayout.DigestAt, RingLayout.DigestBytes).ToArray();
        ScanMs = Int(header, RingLayout.ScanMsAt);
        StartUtcUnixMs = BinaryPrimitives.ReadInt64LittleEndian(header.AsSpan(RingLayout.StartUtcAt));
        try
        {
            ReadOnlySpan<byte> names = _map.Span(RingLayout.HeaderBytes, _layout.NamesBytes);
            SiteName = RingNames.Take(ref names);
            UnitNames = RingNames.TakeMany(ref names, _layout.UnitCount);
            SignalNames = RingNames.TakeMany(ref names, SignalRoles.Count);
            FunctionCodes = RingNames.TakeMany(ref names, FunctionIds.Count);
            CommandNames = RingNames.TakeMany(ref names, CommandRoles.Count);
            StateNames = RingNames.TakeMany(ref names, Enum.GetValues<UnitState>().Length);
            LinkNames = RingNames.TakeMany(ref names, _layout.LinkCount);
            LinkFigureNames = RingNames.TakeMany(ref names, LinkFigureTexts.Count);
            UnitModes = Modes(names, _layout.UnitCount);
        }
        catch
        {
            _map.Dispose();
            throw;
        }
    }

    /// <summary>Run id of the writer; another one means the guard was started again.</summary>
    public string RunId { get; }

    /// <summary>SHA-256 of the configuration.</summary>
    public IReadOnlyList<byte> SiteDigest { get; }

    /// <summary>Scan period, ms.</summary>
    public int ScanMs { get; }

    /// <summary>UTC of the writer's start, ms since 1970-01-01.</summary>
    public long StartUtcUnixMs { get; }

    /// <summary>Name of the site.</summary>
    public string SiteName { get; }

    /// <summary>Unit names by index.</summary>
    public IReadOnlyList<string> UnitNames { get; }

    /// <summary>Unit modes by index.</summary>
    public IReadOnlyList<UnitMode> UnitModes { get; }

    /// <summary>Signal names by <see cref="SignalRole"/>.</summary>
    public IReadOnlyList<string> SignalNames { get; }

    /// <summary>Function codes by <see cref="FunctionId"/>.</summary>
    public IReadOnlyList<string> FunctionCodes { get; }

    /// <summary>Command names by <see cref="CommandRole"/>.</summary>
    public IReadOnlyList<string> CommandNames { get; }

    /// <summary>State names by <see cref="UnitState"/>.</summary>
    public IReadOnlyList<string> StateNames { get; }

    /// <summary>Names of the links to the devices, by index.</summary>
    public IReadOnlyList<string> LinkNames { get; }

    /// <summary>Names of the figures of a link by <see cref="LinkFigure"/>.</summary>
    public IReadOnlyList<string> LinkFigureNames { get; }

    /// <summary>Scans the ring can hold.</summary>
    public int ScanCapacity => _layout.ScanCapacity;

    /// <summary>Events the ring can hold.</summary>
    public int EventCapacity => _layout.EventCapacity;

    /// <summary>Figures of the guard itself. Call again for new ones.</summary>
    public ScanRingLive ReadLive()
    {
        ScanRingLive live = ReadWords();
        RingAlarmWords.ReadCounts(_map, ref live);
        return live;
    }

    private ScanRingLive ReadWords() => new()
    {
        ScansWritten = Word(RingLayout.ScansWrittenAt),
        EventsWritten = Word(RingLayout.EventsWrittenAt),
        HeartbeatTickMs = Word(RingLayout.HeartbeatTickAt),
        HeartbeatUtcUnixMs = Word(RingLayout.HeartbeatUtcAt),
        AllocatedBytes = Word(RingLayout.AllocatedBytesAt),
        LatenessLastUs = Word(RingLayout.LatenessLastAt),
        LatenessMaxUs = Word(RingLayout.LatenessMaxAt),
        Overruns = Word(RingLayout.OverrunsAt),
        Journal = (JournalHealth)Math.Clamp(Word(RingLayout.JournalHealthAt), 0, byte.MaxValue),
        DurableEvent = Word(RingLayout.DurableEventAt),
        TailDropped = Word(RingLayout.TailDroppedAt),
        AlarmsTotal = Word(RingLayout.AlarmsTotalAt),
        AlarmsInTenMinutes = Word(RingLayout.AlarmsInTenMinutesAt),
        AlarmsMostInTenMinutes = Word(RingLayout.AlarmsMostInTenMinutesAt),
        AlarmsAverageInTenMinutes = BitConverter.Int64BitsToDouble(Word(RingLayout.AlarmsAverageInTenMinutesAt)),
        AlarmFlood = Word(RingLayout.AlarmFloodAt) == 1,
        AlarmFloods = Word(RingLayout.AlarmFloodsAt),
        AlarmFloodPercent = BitConverter.Int64BitsToDouble(Word(RingLayout.AlarmFloodPercentAt)),
    };

    /// <summary>Figures of a link. Call again for new ones.</summary>
    /// <param name="link">Index of the link.</param>
    /// <param name="figures">Filled.</param>
    public void ReadLink(int link, ScanRingLink figures)
    {
        ArgumentNullException.ThrowIfNull(figures);
        ArgumentOutOfRangeException.ThrowIfNegative(link);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(link, _layout.LinkCount);
        RingLinkWords.Read(_map, _layout.LinkAt(link), figures.Figures);
    }

    /// <summary>What a unit has been used for.</summary>
    /// <param name="unit">Index of the unit.</param>
    public ScanRingUse ReadUse(int unit)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(unit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(unit, _layout.UnitCount);
        return RingUseWords.Read(_map, _layout.UseAt(unit));
    }

    /// <summary>An alarm of a unit. Call again for a new one.</summary>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="alarm">The function; None is the alarm of the trip.</param>
    public ScanRingAlarm ReadAlarm(int unit, FunctionId alarm) => RingAlarmWords.Read(_map, AlarmAt(unit, alarm));

    /// <summary>Who hid an alarm last, and why; empty when nobody did since the guard started.</summary>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="alarm">The function; None is the alarm of the trip.</param>
    public (string Person, string Reason) ReadHiddenAlarm(int unit, FunctionId alarm)
    {
        const int Attempts = 16;
        long at = AlarmAt(unit, alarm);
        (string Person, string Reason)? hidden = null;
        for (int i = 0; i < Attempts && hidden is null; i++)
        {
            hidden = RingAlarmWords.TryReadHidden(_map, at);
        }

        return hidden ?? ("", "");
    }

    /// <summary>Hours of the element in a temperature band.</summary>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="band">Index of the band in <see cref="Kept.KeptRecord.BandsC"/>.</param>
    public double ReadBandHours(int unit, int band)
    {
        ScanRingWriter.CheckBand(unit, band, _layout);
        return RingUseWords.ReadBand(_map, _layout.UseAt(unit), band);
    }

    /// <summary>Who bypassed a function last; empty when nobody did since the guard started.</summary>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="function">The function.</param>
    public string ReadBypassPerson(int unit, FunctionId function)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(unit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(unit, _layout.UnitCount);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((int)function, FunctionIds.Count);
        return ReadText(_layout.PersonAt(unit, function));
    }

    /// <summary>Who forced a signal last and why; empty when nobody did since the guard started.</summary>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="role">The signal.</param>
    public (string Person, string Reason) ReadForcer(int unit, SignalRole role)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(unit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(unit, _layout.UnitCount);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((int)role, SignalRoles.Count);
        long at = _layout.ForcerAt(unit, role);
        return (ReadText(at), ReadText(at + RingLayout.PersonBytes));
    }

    /// <summary>Whether the guard was started again since this reader opened: the path now holds another run.</summary>
    public bool WasReplaced()
    {
        try
        {
            return !string.Equals(ReadRunId(ReadHeader(_path, out _)), RunId, StringComparison.Ordinal);
        }
        catch (Exception e) when (e is IOException or InvalidDataException or UnauthorizedAccessException)
        {
            return true;
        }
    }

    /// <summary>Reads the newest whole record of a unit.</summary>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="record">Filled on success.</param>
    /// <returns>False when nothing was written yet, or the writer overtook every attempt.</returns>
    public bool TryReadLatest(int unit, ScanRingRecord record)
    {
        const int Attempts = 16;
        for (int i = 0; i < Attempts; i++)
        {
            long written = Word(RingLayout.ScansWrittenAt);
            if (written == 0)
            {
                return false;
            }

            if (Read(written - 1, unit, record) == RingReadOutcome.Good)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Reads the record of a unit in the n-th scan written.</summary>
    /// <param name="ordinal">From 0; see <see cref="ScanRingLive.ScansWritten"/>.</param>
    /// <param name="unit">Index of the unit.</param>
    /// <param name="record">Filled when the outcome is Good.</param>
    public RingReadOutcome Read(long ordinal, int unit, ScanRingRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        ArgumentOutOfRangeException.ThrowIfNegative(ordinal);
        ArgumentOutOfRangeException.ThrowIfNegative(unit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(unit, _layout.UnitCount);
        if (ordinal >= Word(RingLayout.ScansWrittenAt))
        {
            return RingReadOutcome.NotYet;
        }

        RingReadOutcome outcome = Copy(_layout.RecordAt(ordinal, unit), ordinal, RingLayout.RecordBytes);
        if (outcome == RingReadOutcome.Good)
        {
            record.Ordinal = ordinal;
            RingRecordCodec.Decode(_copy, record);
        }

        return outcome;
    }

    /// <summary>Reads the n-th event written.</summary>
    /// <param name="ordinal">From 0; see <see cref="ScanRingLive.EventsWritten"/>.</param>
    /// <param name="e">Filled when the outcome is Good.</param>
    public RingReadOutcome ReadEvent(long ordinal, out GuardEvent e)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(ordinal);
        e = default;
        if (ordinal >= Word(RingLayout.EventsWrittenAt))
        {
            return RingReadOutcome.NotYet;
        }

        RingReadOutcome outcome = Copy(_layout.EventAt(ordinal), ordinal, RingLayout.EventBytes);
        if (outcome == RingReadOutcome.Good)
        {
            e = RingRecordCodec.DecodeEvent(_copy);
        }

        return outcome;
    }

    /// <inheritdoc/>
    public void Dispose() => _map.Dispose();

    private string ReadText(long at)
    {
        const int Attempts = 16;
        string? text = null;
        for (int i = 0; i < Attempts && text is null; i++)
        {
            text = RingPersons.TryRead(_map, at);
        }

        return text ?? "";
    }

    private RingReadOutcome Copy(long at, long ordinal, int bytes)
    {
        long whole = (2 * ordinal) + 2;
        ref long sequence = ref _map.Word(at);
        if (Volatile.Read(ref sequence) != whole)
        {
            return RingReadOutcome.Lost; // the counter said it is written, so it can only be newer
        }

        _map.Span(at, bytes).CopyTo(_copy);
        Interlocked.MemoryBarrier(); // the copy is complete before the word is looked at again
        return Volatile.Read(ref sequence) == whole ? RingReadOutcome.Good : RingReadOutcome.Lost;
    }

    private long AlarmAt(int unit, FunctionId alarm)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(unit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(unit, _layout.UnitCount);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((int)alarm, FunctionIds.Count);
        return _layout.AlarmAt(unit, alarm);
    }

    private long Word(int at) => Volatile.Read(ref _map.Word(at));

    private static int Int(ReadOnlySpan<byte> header, int at) => BinaryPrimitives.ReadInt32LittleEndian(header[at..]);

    private static string ReadRunId(ReadOnlySpan<byte> header) =>
        Encoding.ASCII.GetString(header.Slice(RingLayout.RunIdAt, RingLayout.RunIdBytes)).TrimEnd('\0');

    private static byte[] ReadHeader(string path, out long fileBytes)
    {
        using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        fileBytes = stream.Length;
        byte[] header = new byte[RingLayout.HeaderBytes];
        return stream.ReadAtLeast(header, header.Length, throwOnEndOfStream: false) == header.Length
            ? header
            : throw new InvalidDataException($"{path}: {fileBytes} bytes; a ring has at least {RingLayout.HeaderBytes}; is it the file of a running guard?");
    }

    private static RingLayout Check(string path, ReadOnlySpan<byte> header, long fileBytes)
    {
        if (BinaryPrimitives.ReadUInt64LittleEndian(header) != RingLayout.Magic)
        {
            throw new InvalidDataException($"{path}: not a ring of this program");
        }

        Expect(path, "version", Int(header, RingLayout.VersionAt), RingLayout.Version);
        Expect(path, "signals", Int(header, RingLayout.SignalCountAt), SignalRoles.Count);
        Expect(path, "functions", Int(header, RingLayout.FunctionCountAt), FunctionIds.Count);
        Expect(path, "commands", Int(header, RingLayout.CommandCountAt), CommandRoles.Count);
        Expect(path, "record bytes", Int(header, RingLayout.RecordBytesAt), RingLayout.RecordBytes);
        Expect(path, "event bytes", Int(header, RingLayout.EventBytesAt), RingLayout.EventBytes);
        Expect(path, "figures of a link", Int(header, RingLayout.LinkFigureCountAt), LinkFigureTexts.Count);
        Expect(path, "link bytes", Int(header, RingLayout.LinkBytesAt), RingLayout.LinkBytes);
        int units = Int(header, RingLayout.UnitCountAt);
        int scans = Int(header, RingLayout.ScanCapacityAt);
        int events = Int(header, RingLayout.EventCapacityAt);
        int names = Int(header, RingLayout.NamesBytesAt);
        int links = Int(header, RingLayout.LinkCountAt);
        const int CountMax = 1 << 24;
        if (units is < 1 or > 10_000 || links is < 0 or > 10_000 || scans is < 1 or > CountMax || events is < 1 or > CountMax || names is < 0 or > CountMax)
        {
            throw new InvalidDataException($"{path}: impossible counts (units {units}, scans {scans}, events {events}, links {links}, names {names})");
        }

        var layout = new RingLayout(units, scans, events, links, names);
        return layout.FileBytes == fileBytes ? layout : throw new InvalidDataException($"{path}: {fileBytes} bytes; expected {layout.FileBytes} from its header");
    }

    private static void Expect(string path, string what, int found, int expected)
    {
        if (found != expected)
        {
            throw new InvalidDataException($"{path}: {what} {found}; expected {expected}; guard and reader are of different versions: run both from the same installation");
        }
    }

    private static UnitMode[] Modes(ReadOnlySpan<byte> bytes, int count)
    {
        if (bytes.Length < count)
        {
            throw new InvalidDataException("the name table ends early");
        }

        var modes = new UnitMode[count];
        for (int i = 0; i < count; i++)
        {
            modes[i] = (UnitMode)bytes[i];
        }

        return modes;
    }
}
