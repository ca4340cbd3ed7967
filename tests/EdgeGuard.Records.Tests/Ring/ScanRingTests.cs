using System.Buffers.Binary;
using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Records.Tests.Ring;

public sealed class ScanRingTests
{
    [Fact]
    public void A_reader_without_configuration_gets_names_run_and_records_back()
    {
        using var folder = new TempFolder();
        using ScanRingWriter writer = NewWriter(folder.File("scan.ring"));
        using var reader = new ScanRingReader(folder.File("scan.ring"));
        Assert.Equal(RecordsSite.RunId, reader.RunId);
        Assert.Equal("pilot hall", reader.SiteName);
        Assert.Equal(["N-1", "A-1"], reader.UnitNames);
        Assert.Equal([UnitMode.Enforce, UnitMode.Observe], reader.UnitModes);
        Assert.Equal("GasFlow", reader.SignalNames[(int)SignalRole.GasFlow]);
        Assert.Equal("FLOW", reader.FunctionCodes[(int)FunctionId.Flow]);
        Assert.Equal(RecordsSite.Digest, reader.SiteDigest);
        var record = new ScanRingRecord();
        Assert.False(reader.TryReadLatest(0, record));

        (RawScan scan, ScanOutput output) = RingSample.Filled(7);
        writer.Write(scan, output, new ScanRingLive { LatenessLastUs = 11, LatenessMaxUs = 22, Overruns = 3, TailDropped = 4 });
        Assert.True(reader.TryReadLatest(1, record));
        AssertIs(record, 7, 1);
        ScanRingLive live = reader.ReadLive();
        Assert.Equal((1L, 2L, 11L, 22L, 3L, 4L), (live.ScansWritten, live.EventsWritten, live.LatenessLastUs, live.LatenessMaxUs, live.Overruns, live.TailDropped));
        Assert.True(live.AllocatedBytes > 0);
        Assert.InRange(Environment.TickCount64 - live.HeartbeatTickMs, 0, 60_000);
        Assert.Equal(RingReadOutcome.Good, reader.ReadEvent(1, out GuardEvent e));
        Assert.Equal(output.Events[1], e);
        Assert.Equal(RingReadOutcome.NotYet, reader.ReadEvent(2, out _));
    }

    [Trait("requirement", "RING-1")]
    [Fact]
    public void A_slow_reader_is_told_what_it_lost_and_never_given_something_else()
    {
        using var folder = new TempFolder();
        using ScanRingWriter writer = NewWriter(folder.File("scan.ring"), scans: 4);
        using var reader = new ScanRingReader(folder.File("scan.ring"));
        for (int i = 0; i < 10; i++)
        {
            (RawScan scan, ScanOutput output) = RingSample.Filled(i);
            writer.Write(scan, output, default);
        }

        var record = new ScanRingRecord();
        for (int i = 0; i < 6; i++)
        {
            Assert.Equal(RingReadOutcome.Lost, reader.Read(i, 0, record));
        }

        for (int i = 6; i < 10; i++)
        {
            Assert.Equal(RingReadOutcome.Good, reader.Read(i, 0, record));
            AssertIs(record, i, 0);
        }

        Assert.Equal(RingReadOutcome.NotYet, reader.Read(10, 0, record));
    }

    [Fact]
    public void A_reader_beside_a_running_writer_never_sees_a_torn_record()
    {
        using var folder = new TempFolder();
        using ScanRingWriter writer = NewWriter(folder.File("scan.ring"), scans: 2);
        (RawScan Scan, ScanOutput Output)[] prepared = [.. Enumerable.Range(0, 64).Select(i => RingSample.Filled(i))];
        bool stop = false;
        var thread = new Thread(() =>
        {
            for (int i = 0; !Volatile.Read(ref stop); i++)
            {
                writer.Write(prepared[i % 64].Scan, prepared[i % 64].Output, default);
            }
        });
        thread.Start();
        using var reader = new ScanRingReader(folder.File("scan.ring"));
        var record = new ScanRingRecord();
        long good = 0;
        long lost = 0;
        try
        {
            // Alternately the newest record and the one whose slot is being written now.
            long end = Environment.TickCount64 + 60_000;
            for (int turn = 0; (good < 2000 || lost < 10) && Environment.TickCount64 < end; turn++)
            {
                long ordinal = reader.ReadLive().ScansWritten - 1 - (turn % 2);
                if (ordinal < 0)
                {
                    continue;
                }

                if (reader.Read(ordinal, 1, record) == RingReadOutcome.Good)
                {
                    AssertIs(record, ordinal % 64, 1);
                    good++;
                }
                else
                {
                    lost++;
                }
            }
        }
        finally
        {
            Volatile.Write(ref stop, true);
            thread.Join();
        }

        // Both must have happened, or the test has not tested the race.
        Assert.True(good >= 2000 && lost >= 10, $"{good} good, {lost} lost");
    }

    [Fact]
    public void A_guard_that_starts_again_is_noticed_by_its_run_id()
    {
        using var folder = new TempFolder();
        using ScanRingWriter first = NewWriter(folder.File("scan.ring"));
        using var reader = new ScanRingReader(folder.File("scan.ring"));
        Assert.False(reader.WasReplaced());
        using ScanRingWriter second = NewWriter(folder.File("scan.ring"), run: "another");
        Assert.True(reader.WasReplaced());
        Assert.Equal(RecordsSite.RunId, reader.RunId); // the old map stays readable
        using var next = new ScanRingReader(folder.File("scan.ring"));
        Assert.Equal("another", next.RunId);
    }

    [Fact]
    public void Writing_a_scan_allocates_nothing()
    {
        using var folder = new TempFolder();
        using ScanRingWriter writer = NewWriter(folder.File("scan.ring"));
        (RawScan scan, ScanOutput output) = RingSample.Filled(1);
        ScanRingLink[] links = [RingSample.Link(1), RingSample.Link(2)];
        ScanRingUse use = RingSample.Use(1);
        writer.Write(scan, output, default, links);
        writer.WriteBandHours(1, 3, 0); // the names of the bands are made once
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 100_000; i++)
        {
            writer.Write(scan, output, default, links);
            writer.WriteBypassPerson(1, FunctionId.Flow, "Zoë Weiß");
            writer.WriteForcer(1, SignalRole.GasFlow, "Zoë Weiß", "meter being exchanged");
            writer.WriteUse(1, use);
            writer.WriteHiddenAlarm(1, FunctionId.Cool, "Zoë Weiß", "damper under repair");
            writer.WriteBandHours(1, 3, i);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Fact]
    public void A_damaged_header_is_refused_with_words_at_every_byte()
    {
        using var folder = new TempFolder();
        string path = folder.File("scan.ring");
        NewWriter(path, scans: 2).Dispose();
        byte[] good = File.ReadAllBytes(path);
        for (int at = 0; at < 140; at++) // magic, version, counts: everything a reader computes offsets from
        {
            if (at is (>= 28 and < 32) or (>= 56 and < 136))
            {
                continue; // the scan period, the start, the run and the digest are facts, no offsets
            }

            byte[] bad = [.. good];
            bad[at] ^= 0x41;
            File.WriteAllBytes(path, bad);
            var e = Assert.Throws<InvalidDataException>(() => new ScanRingReader(path));
            Assert.StartsWith(path, e.Message, StringComparison.Ordinal);
        }

        File.WriteAllBytes(path, good[..100]);
        Assert.Throws<InvalidDataException>(() => new ScanRingReader(path));
    }

    [Fact]
    public void Figures_of_links_come_back_each_in_its_place()
    {
        using var folder = new TempFolder();
        using ScanRingWriter writer = NewWriter(folder.File("scan.ring"));
        using var reader = new ScanRingReader(folder.File("scan.ring"));
        Assert.Equal(["N-1 cabinet", "A-1 cabinet"], reader.LinkNames);
        Assert.Equal(LinkFigureTexts.All.Select(static t => t.Name), reader.LinkFigureNames);
        Assert.All(Read(reader, 1), static f => Assert.Equal(0, f));
        (RawScan scan, ScanOutput output) = RingSample.Filled(7);
        ScanRingLink[] links = [RingSample.Link(1), RingSample.Link(2)];
        writer.Write(scan, output, default, links);
        Assert.Equal([.. links[0].Figures, .. links[1].Figures], [.. Read(reader, 0), .. Read(reader, 1)]);
        var record = new ScanRingRecord();
        Assert.True(reader.TryReadLatest(1, record));
        AssertIs(record, 7, 1);

        // A scan without them leaves what was written.
        writer.Write(scan, output, default);
        Assert.Equal([.. links[0].Figures, .. links[1].Figures], [.. Read(reader, 0), .. Read(reader, 1)]);
        Assert.Throws<ArgumentException>(() => writer.Write(scan, output, default, new ScanRingLink[3]));
        Assert.Throws<ArgumentOutOfRangeException>(() => reader.ReadLink(2, new ScanRingLink()));
    }

    [Fact]
    public void Use_and_alarms_of_each_unit_come_back_each_in_its_place()
    {
        using var folder = new TempFolder();
        using ScanRingWriter writer = NewWriter(folder.File("scan.ring"));
        using var reader = new ScanRingReader(folder.File("scan.ring"));
        writer.WriteUse(0, RingSample.Use(1));
        writer.WriteUse(1, RingSample.Use(2));
        Assert.Equal((RingSample.Use(1), RingSample.Use(2)), (reader.ReadUse(0), reader.ReadUse(1)));
        Assert.Throws<ArgumentOutOfRangeException>(() => writer.WriteUse(2, default));
        (RawScan scan, ScanOutput output) = RingSample.Filled(3);
        var live = new ScanRingLive { AlarmsTotal = 1, AlarmsInTenMinutes = 2, AlarmsMostInTenMinutes = 3, AlarmsAverageInTenMinutes = 4.5, AlarmFlood = true, AlarmFloods = 6, AlarmFloodPercent = 7.5, AlarmsHigh = 8, AlarmsMedium = 9, AlarmsLow = 10, AlarmsStanding = 11, AlarmsUnacknowledged = 12, AlarmsShelved = 13, AlarmsSuppressed = 14, AlarmsOutOfService = 15, AlarmsChattering = 16, AlarmsStale = 17 };
        writer.Write(scan, output, live);
        ScanRingLive told = reader.ReadLive();
        Assert.Equal((1L, 2L, 3L, 4.5, true, 6L, 7.5), (told.AlarmsTotal, told.AlarmsInTenMinutes, told.AlarmsMostInTenMinutes, told.AlarmsAverageInTenMinutes, told.AlarmFlood, told.AlarmFloods, told.AlarmFloodPercent));
        Assert.Equal([8L, 9, 10, 11, 12, 13, 14, 15, 16, 17], [told.AlarmsHigh, told.AlarmsMedium, told.AlarmsLow, told.AlarmsStanding, told.AlarmsUnacknowledged, told.AlarmsShelved, told.AlarmsSuppressed, told.AlarmsOutOfService, told.AlarmsChattering, told.AlarmsStale]);
        for (int unit = 0; unit < 2; unit++)
        {
            for (int id = 0; id < FunctionIds.Count; id++)
            {
                AlarmPointStatus written = RingSample.Alarm(3 + (30 * unit) + id);
                ScanRingAlarm read = reader.ReadAlarm(unit, (FunctionId)id);
                Assert.Equal(
                    ((byte)written.State, written.Suppression, written.Condition, written.IsChattering, written.IsStale, written.ShelfSecondsLeft, (long)written.Annunciations),
                    (read.State, read.Suppression, read.Condition, read.IsChattering, read.IsStale, read.ShelfSecondsLeft, read.Annunciations));
            }
        }

        Assert.Throws<ArgumentOutOfRangeException>(() => reader.ReadAlarm(2, FunctionId.Flow));
        Assert.Throws<ArgumentOutOfRangeException>(() => reader.ReadAlarm(0, (FunctionId)FunctionIds.Count));
    }

    [Trait("requirement", "ALRM-7")]
    [Fact]
    public void Who_hid_an_alarm_and_why_come_back_cut_at_whole_characters()
    {
        using var folder = new TempFolder();
        using ScanRingWriter writer = NewWriter(folder.File("scan.ring"));
        using var reader = new ScanRingReader(folder.File("scan.ring"));
        Assert.Equal(("", ""), reader.ReadHiddenAlarm(1, FunctionId.Cool));
        writer.WriteHiddenAlarm(1, FunctionId.Cool, "Zoë Weiß", "damper under repair");
        writer.WriteHiddenAlarm(0, FunctionId.None, "another", "elsewhere");
        Assert.Equal(("Zoë Weiß", "damper under repair"), reader.ReadHiddenAlarm(1, FunctionId.Cool));
        Assert.Equal(("another", "elsewhere"), reader.ReadHiddenAlarm(0, FunctionId.None));
        Assert.Equal(("", ""), reader.ReadHiddenAlarm(1, FunctionId.Heat));

        // 102 and 254 bytes: 34 and 84 characters of three bytes.
        writer.WriteHiddenAlarm(1, FunctionId.Cool, new string('\u20ac', 60), new string('\u20ac', 300));
        Assert.Equal((new string('\u20ac', 34), new string('\u20ac', 84)), reader.ReadHiddenAlarm(1, FunctionId.Cool));
        Assert.Throws<ArgumentOutOfRangeException>(() => writer.WriteHiddenAlarm(2, FunctionId.Cool, "x", "y"));

        // A scan leaves them where they are.
        (RawScan scan, ScanOutput output) = RingSample.Filled(3);
        writer.Write(scan, output, default);
        Assert.Equal(84, reader.ReadHiddenAlarm(1, FunctionId.Cool).Reason.Length);
    }

    [Trait("requirement", "FORC-8")]
    [Fact]
    public void Who_forced_a_signal_and_why_comes_back_for_each_signal_of_each_unit()
    {
        using var folder = new TempFolder();
        using ScanRingWriter writer = NewWriter(folder.File("scan.ring"));
        using var reader = new ScanRingReader(folder.File("scan.ring"));
        Assert.Equal(("", ""), reader.ReadForcer(1, SignalRole.Insulation));
        writer.WriteForcer(1, SignalRole.Insulation, "Zoë Weiß", "cable out");
        writer.WriteForcer(0, SignalRole.MeterSettings, "another", new string('r', 300));
        Assert.Equal(("Zoë Weiß", "cable out"), reader.ReadForcer(1, SignalRole.Insulation));
        Assert.Equal(("another", new string('r', 118)), reader.ReadForcer(0, SignalRole.MeterSettings));
        Assert.Equal(("", ""), reader.ReadForcer(1, SignalRole.EarthLeakage));
        Assert.Equal("", reader.ReadBypassPerson(1, FunctionId.Bala));
        Assert.Throws<ArgumentOutOfRangeException>(() => reader.ReadForcer(2, SignalRole.GasFlow));
    }

    [Fact]
    public void Who_bypassed_a_function_comes_back_and_a_long_name_is_cut_at_a_whole_character()
    {
        using var folder = new TempFolder();
        using ScanRingWriter writer = NewWriter(folder.File("scan.ring"));
        using var reader = new ScanRingReader(folder.File("scan.ring"));
        Assert.Equal("", reader.ReadBypassPerson(1, FunctionId.Flow));
        writer.WriteBypassPerson(1, FunctionId.Flow, "Zoë Weiß");
        writer.WriteBypassPerson(0, FunctionId.Flow, "another");
        Assert.Equal("Zoë Weiß", reader.ReadBypassPerson(1, FunctionId.Flow));
        Assert.Equal("", reader.ReadBypassPerson(1, FunctionId.Elem));

        // 118 bytes: 39 characters of three bytes are 117, the fortieth does not fit.
        writer.WriteBypassPerson(1, FunctionId.Flow, new string('\u20ac', 60));
        Assert.Equal(new string('\u20ac', 39), reader.ReadBypassPerson(1, FunctionId.Flow));
        writer.WriteBypassPerson(1, FunctionId.Flow, "x");
        Assert.Equal("x", reader.ReadBypassPerson(1, FunctionId.Flow));
        Assert.Throws<ArgumentOutOfRangeException>(() => writer.WriteBypassPerson(2, FunctionId.Flow, "x"));
        Assert.Throws<ArgumentOutOfRangeException>(() => reader.ReadBypassPerson(0, (FunctionId)FunctionIds.Count));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(8)]
    public void A_ring_of_another_version_is_told_and_not_misread(int version)
    {
        using var folder = new TempFolder();
        string path = folder.File("scan.ring");
        NewWriter(path, scans: 2).Dispose();
        byte[] other = File.ReadAllBytes(path);
        BinaryPrimitives.WriteInt32LittleEndian(other.AsSpan(8), version);
        File.WriteAllBytes(path, other);
        var e = Assert.Throws<InvalidDataException>(() => new ScanRingReader(path));
        Assert.Equal($"{path}: version {version}; expected 7; guard and reader are of different versions: run both from the same installation", e.Message);
    }

    [Fact]
    public void A_reader_that_finds_the_name_table_damaged_lets_go_of_the_file()
    {
        using var folder = new TempFolder();
        string path = folder.File("scan.ring");
        NewWriter(path, scans: 2).Dispose();
        byte[] damaged = File.ReadAllBytes(path);
        BinaryPrimitives.WriteUInt16LittleEndian(damaged.AsSpan(512), ushort.MaxValue); // The first name, behind the header, is longer than the table.
        File.WriteAllBytes(path, damaged);
        Assert.Throws<InvalidDataException>(() => new ScanRingReader(path));
        Assert.DoesNotContain(File.ReadLines("/proc/self/maps"), line => line.EndsWith(path, StringComparison.Ordinal));
    }

    private static long[] Read(ScanRingReader reader, int link)
    {
        var figures = new ScanRingLink();
        reader.ReadLink(link, figures);
        return figures.Figures.ToArray();
    }

    private static ScanRingWriter NewWriter(string path, int scans = 16, string run = RecordsSite.RunId) => new(new ScanRingOptions
    {
        Path = path,
        Site = RecordsSite.Table,
        SiteDigest = RecordsSite.Digest,
        RunId = run,
        StartUtcUnixMs = 1_767_225_600_000,
        LinkNames = RingSample.LinkNames,
        ScanCapacity = scans,
        EventCapacity = 16,
    });

    private static void AssertIs(ScanRingRecord record, long number, int u)
    {
        (RawScan scan, ScanOutput output) = RingSample.Filled((int)number);
        UnitDecision unit = output.Units[u];
        Assert.Equal((number, scan.UtcUnixMs, u), (record.Scan, record.UtcUnixMs, record.Unit));
        Assert.Equal((unit.State, unit.FirstOut, unit.Permit, unit.PendingDurable, unit.RampHeld, unit.PowerProvedOff), (record.State, record.FirstOut, record.Permit, record.PendingDurable, record.RampHeld, record.PowerProvedOff));
        Assert.Equal((unit.LedSetpointC, unit.ElementSlopeKPerMin, unit.CoolSlopeKPerMin, output.SitePowerKw), (record.LedSetpointC, record.ElementSlopeKPerMin, record.CoolSlopeKPerMin, record.SitePowerKw));
        Assert.Equal((unit.TripCount, unit.FunctionsEvaluated), (record.TripCount, record.FunctionsEvaluated));
        Assert.Equal((unit.LastTrip, unit.LastTripClass, unit.ResetsTooOften), (record.LastTrip, record.LastTripClass, record.ResetsTooOften));
        Assert.Equal(unit.Counts, record.Counts);
        for (int i = 0; i < SignalRoles.Count; i++)
        {
            Assert.Equal(unit.Image[(SignalRole)i], record.Signals[i]);
        }

        Assert.Equal(unit.Functions, record.Functions);
        Assert.Equal(unit.Commands, record.Commands);
        Assert.Equal(unit.Forced, record.Forced);
    }
}
