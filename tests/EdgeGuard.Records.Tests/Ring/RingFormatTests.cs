using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Records.Tests.Ring;

/// <summary>
/// The bytes of a ring, which programs of others read. A reader that knows nothing but the offsets of
/// docs/reference/ring-format.md finds everything, and the whole file is a reviewed one. To accept a change: step the
/// version, write it into the document, run with EDGEGUARD_WRITE_GOLDEN=1 and read the diff.
/// </summary>
public sealed class RingFormatTests : IDisposable
{
    private const int Number = 5;
    private const int Scans = 2;
    private const int Events = 4;
    private readonly TempFolder _folder = new();
    private readonly byte[] _ring;
    private readonly ScanOutput _output;
    private readonly RawScan _scan;

    public RingFormatTests()
    {
        string path = _folder.File("scans.ring");
        (_scan, _output) = RingSample.Filled(Number);
        using (var writer = new ScanRingWriter(new ScanRingOptions
        {
            Path = path,
            Site = RecordsSite.Table,
            SiteDigest = RecordsSite.Digest,
            LinkNames = RingSample.LinkNames,
            RunId = RecordsSite.RunId,
            StartUtcUnixMs = 1_767_225_600_000,
            ScanCapacity = Scans,
            EventCapacity = Events,
        }))
        {
            writer.WriteUse(1, RingSample.Use(3));
            writer.WriteHiddenAlarm(1, FunctionId.Cool, "Zoë Weiß", "damper");
            writer.WriteBandHours(1, 6, 77.5);
            writer.WriteBypassPerson(1, FunctionId.Elem, "Zoë Weiß");
            writer.WriteForcer(1, SignalRole.GasFlow, "Ana", "meter out");
            writer.Write(_scan, _output, new ScanRingLive { LatenessLastUs = 11, LatenessMaxUs = 22, Overruns = 3, TailDropped = 4, AlarmsHigh = 5, AlarmsStale = 6 }, [RingSample.Link(1), RingSample.Link(2)]);
        }

        _ring = File.ReadAllBytes(path);
    }

    [Fact]
    public void A_reader_by_the_offsets_of_the_document_finds_header_and_links()
    {
        Assert.Equal("EDGRING1", Encoding.ASCII.GetString(_ring, 0, 8));
        Assert.Equal([7, 2, SignalRoles.Count, FunctionIds.Count, CommandRoles.Count, 100, Scans, Events], [.. Enumerable.Range(2, 8).Select(i => I32(4 * i))]);
        Assert.Equal((64, 2, 448, 56), (I32(44), I32(52), I32(136), I32(140)));
        Assert.Equal(RecordsSite.RunId, Encoding.ASCII.GetString(_ring, 64, 40).TrimEnd('\0'));
        Assert.Equal((1L, 2L, 11L, 22L, 3L, 4L), (I64(256), I64(264), I64(344), I64(352), I64(360), I64(384)));
        int at = Rounded(512 + I32(48));
        for (int link = 1; link <= 2; link++, at += 448)
        {
            Assert.Equal(link % 2 == 0 ? 1 : 0, I64(at));
            for (int word = 1; word < 56; word++)
            {
                Assert.Equal((1000 * link) + word, I64(at + (8 * word)));
            }
        }
    }

    [Fact]
    public void A_reader_by_the_offsets_of_the_document_finds_persons_records_and_events()
    {
        int persons = Rounded(512 + I32(48)) + (2 * 448);
        int zoe = persons + (128 * (FunctionIds.Count + (int)FunctionId.Elem));
        Assert.Equal((2L, "Zoë Weiß"), (I64(zoe), Encoding.UTF8.GetString(_ring, zoe + 10, BinaryPrimitives.ReadUInt16LittleEndian(_ring.AsSpan(zoe + 8)))));
        int forcers = persons + (2 * FunctionIds.Count * 128);
        int ana = forcers + (256 * (SignalRoles.Count + (int)SignalRole.GasFlow));
        Assert.Equal(("Ana", "meter out"), (Encoding.UTF8.GetString(_ring, ana + 10, _ring[ana + 8]), Encoding.UTF8.GetString(_ring, ana + 138, _ring[ana + 136])));
        int uses = forcers + (2 * SignalRoles.Count * 256);
        Assert.Equal((RingSample.Use(3).EnergyKwh, RingSample.Use(3).ForcedExcessSeconds), (F64(uses + 384), F64(uses + 384 + 96)));
        Assert.Equal((RingSample.Use(3).SinceUtcMs, RingSample.Use(3).LossBlocks), (F64(uses + 384 + 104), F64(uses + 384 + 120)));
        Assert.Equal((RingSample.Use(3).NoiseElementK, RingSample.Use(3).LegWarnLatestUtcMs), (F64(uses + 384 + 128), F64(uses + 384 + 208)));
        Assert.Equal(77.5, F64(uses + 384 + 320 + (6 * 8)));
        Assert.Equal((5, 6), (I32(448), I32(484)));
        int alarms = uses + (2 * 384);
        int cool = alarms + (384 * (FunctionIds.Count + (int)FunctionId.Cool));
        AlarmPointStatus alarm = _output.Units[1].Alarms[(int)FunctionId.Cool];
        int flags = (alarm.Condition ? 1 : 0) + (alarm.IsChattering ? 2 : 0) + (alarm.IsStale ? 4 : 0);
        Assert.Equal(((byte)alarm.State, (byte)alarm.Suppression, (byte)flags, alarm.ShelfSecondsLeft, (long)alarm.Annunciations), (_ring[cool], _ring[cool + 1], _ring[cool + 2], I32(cool + 4), I64(cool + 8)));
        Assert.Equal((2L, "Zoë Weiß", "damper"), (I64(cool + 16), Encoding.UTF8.GetString(_ring, cool + 26, BinaryPrimitives.ReadUInt16LittleEndian(_ring.AsSpan(cool + 24))), Encoding.UTF8.GetString(_ring, cool + 130, BinaryPrimitives.ReadUInt16LittleEndian(_ring.AsSpan(cool + 128)))));
        int records = alarms + (2 * FunctionIds.Count * 384);
        int second = records + I32(40);
        UnitDecision unit = _output.Units[1];
        Assert.Equal((2L, (long)Number, _scan.UtcUnixMs, 1), (I64(second), I64(second + 8), I64(second + 16), I32(second + 24)));
        Assert.Equal(((byte)unit.State, (byte)unit.FirstOut), (_ring[second + 28], _ring[second + 29]));
        Assert.Equal((unit.LedSetpointC, unit.ElementSlopeKPerMin, unit.CoolSlopeKPerMin, _output.SitePowerKw), (F64(second + 32), F64(second + 40), F64(second + 48), F64(second + 56)));
        int flow = second + 80 + (16 * SignalRoles.Count) + (56 * (int)FunctionId.Flow);
        Assert.Equal((unit.Functions[(int)FunctionId.Flow].Value, unit.Functions[(int)FunctionId.Flow].Limit, (long)Number, (byte)unit.Functions[(int)FunctionId.Flow].State), (F64(flow), F64(flow + 8), I64(flow + 16), _ring[flow + 24]));
        FunctionCounts counts = unit.Counts[(int)FunctionId.Flow];
        Assert.Equal((counts.Demands, counts.Trips, counts.BypassedDemands, counts.SpuriousTrips, counts.ForcedDemands), (I32(flow + 32), I32(flow + 36), I32(flow + 40), I32(flow + 44), I32(flow + 48)));
        int forced = second + 80 + (16 * SignalRoles.Count) + (56 * FunctionIds.Count) + (16 * CommandRoles.Count) + 64;
        ForcedSignal shown = unit.Forced[2];
        Assert.True(shown.Active);
        Assert.Equal((shown.Real.Value, shown.Real.Status, shown.Real.AgeMs), (F64(forced), unchecked((uint)I32(forced + 8)), I32(forced + 12)));
        Assert.Equal((1, (int)shown.Role, shown.SecondsLeft, shown.Demands), (_ring[forced + 20], _ring[forced + 21], I32(forced + 24), I32(forced + 28)));
        Assert.Equal(((int)unit.LastTripClass, (int)unit.LastTrip), ((_ring[second + 30] >> 5) & 3, _ring[second + 31]));
        int events = records + (2 * Scans * I32(40));
        Assert.Equal((2L, _output.Events[0].Sequence, (long)Number), (I64(events), I64(events + 8), I64(events + 16)));
        Assert.Equal(events + (64 * Events), _ring.Length);
    }

    [Fact]
    public void The_bytes_of_a_ring_are_the_reviewed_ones()
    {
        string path = RepoFolder.File("tests", "EdgeGuard.Records.Tests", "golden", "ring.txt");
        string now = Hex();
        if (Environment.GetEnvironmentVariable("EDGEGUARD_WRITE_GOLDEN") == "1")
        {
            File.WriteAllText(path, now);
        }

        Assert.Equal(File.ReadAllText(path), now);
    }

    public void Dispose() => _folder.Dispose();

    // Offset and 32 bytes a line, lines of zeros left out; the heartbeat and the memory of this process are no facts of the format.
    private string Hex()
    {
        _ring.AsSpan(320, 8).Clear();
        _ring.AsSpan(336, 8).Clear();
        var text = new StringBuilder();
        for (int at = 0; at < _ring.Length; at += 32)
        {
            ReadOnlySpan<byte> line = _ring.AsSpan(at, 32);
            if (line.ContainsAnyExcept((byte)0))
            {
                text.Append(CultureInfo.InvariantCulture, $"{at,6} {Convert.ToHexStringLower(line)}\n");
            }
        }

        return text.Append(CultureInfo.InvariantCulture, $"{_ring.Length,6}\n").ToString();
    }

    private static int Rounded(int at) => (at + 63) / 64 * 64;

    private int I32(int at) => BinaryPrimitives.ReadInt32LittleEndian(_ring.AsSpan(at));

    private long I64(int at) => BinaryPrimitives.ReadInt64LittleEndian(_ring.AsSpan(at));

    private double F64(int at) => BinaryPrimitives.ReadDoubleLittleEndian(_ring.AsSpan(at));
}
