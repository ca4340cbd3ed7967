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

        (RawScan scan, ScanOutput output) = Filled(7);
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

    [Fact]
    public void A_slow_reader_is_told_what_it_lost_and_never_given_something_else()
    {
        using var folder = new TempFolder();
        using ScanRingWriter writer = NewWriter(folder.File("scan.ring"), scans: 4);
        using var reader = new ScanRingReader(folder.File("scan.ring"));
        for (int i = 0; i < 10; i++)
        {
            (RawScan scan, ScanOutput output) = Filled(i);
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
        (RawScan Scan, ScanOutput Output)[] prepared = [.. Enumerable.Range(0, 64).Select(i => Filled(i))];
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
            long end = Environment.TickCount64 + 20_000;
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
        (RawScan scan, ScanOutput output) = Filled(1);
        writer.Write(scan, output, default);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 100_000; i++)
        {
            writer.Write(scan, output, default);
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
        for (int at = 0; at < 52; at++) // magic, version, counts: everything a reader computes offsets from
        {
            if (at is >= 28 and < 32)
            {
                continue; // the scan period is a fact, no offset
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

    private static ScanRingWriter NewWriter(string path, int scans = 16, string run = RecordsSite.RunId) => new(new ScanRingOptions
    {
        Path = path,
        Site = RecordsSite.Table,
        SiteDigest = RecordsSite.Digest,
        RunId = run,
        StartUtcUnixMs = 1_767_225_600_000,
        ScanCapacity = scans,
        EventCapacity = 16,
    });

    // Every figure of a record follows from the scan number, so a mixture of two scans cannot pass.
    private static (RawScan Scan, ScanOutput Output) Filled(int number)
    {
        RawScan scan = RecordsSite.NewScan();
        RecordsSite.Fill(scan, number);
        var output = new ScanOutput(2) { Scan = number, SitePowerKw = number + 0.5, EventCount = 2 };
        for (int u = 0; u < 2; u++)
        {
            UnitDecision unit = output.Units[u];
            unit.State = (UnitState)(number % 8);
            unit.FirstOut = (FunctionId)(number % FunctionIds.Count);
            unit.Permit = number % 2 == 1;
            unit.PendingDurable = number % 3 == 1;
            unit.RampHeld = number % 5 == 1;
            unit.PowerProvedOff = number % 7 == 1;
            unit.LedSetpointC = number + u;
            unit.ElementSlopeKPerMin = number + 0.25;
            unit.CoolSlopeKPerMin = number + 0.75;
            unit.TripCount = number;
            unit.FunctionsEvaluated = number + 1;
            for (int i = 0; i < SignalRoles.Count; i++)
            {
                unit.Image[(SignalRole)i] = new SignalValue { Value = (number * 100) + i, Status = (uint)number, AgeMs = number + i, Known = (number + i) % 2 == 0 };
            }

            for (int i = 0; i < FunctionIds.Count; i++)
            {
                unit.Functions[i] = new FunctionStatus { State = (FunctionState)((number + i) % 6), Value = number + i, Limit = number - i, SinceScan = number };
            }

            for (int i = 0; i < CommandRoles.Count; i++)
            {
                unit.Commands[i] = new CommandDecision { Value = number + i, Write = (number + i) % 2 == 0, DeEnergising = (number + i) % 3 == 0 };
            }

            output.Events[u] = new GuardEvent { Sequence = (2 * number) + u, Scan = number, UtcUnixMs = 5, Unit = u, Id = EventId.Trip, Function = FunctionId.Elem, Reason = RefusalReason.NotReset, Value = number, Limit = -1, Detail = 9 };
        }

        return (scan, output);
    }

    private static void AssertIs(ScanRingRecord record, long number, int u)
    {
        (RawScan scan, ScanOutput output) = Filled((int)number);
        UnitDecision unit = output.Units[u];
        Assert.Equal((number, scan.UtcUnixMs, u), (record.Scan, record.UtcUnixMs, record.Unit));
        Assert.Equal((unit.State, unit.FirstOut, unit.Permit, unit.PendingDurable, unit.RampHeld, unit.PowerProvedOff), (record.State, record.FirstOut, record.Permit, record.PendingDurable, record.RampHeld, record.PowerProvedOff));
        Assert.Equal((unit.LedSetpointC, unit.ElementSlopeKPerMin, unit.CoolSlopeKPerMin, output.SitePowerKw), (record.LedSetpointC, record.ElementSlopeKPerMin, record.CoolSlopeKPerMin, record.SitePowerKw));
        Assert.Equal((unit.TripCount, unit.FunctionsEvaluated), (record.TripCount, record.FunctionsEvaluated));
        for (int i = 0; i < SignalRoles.Count; i++)
        {
            Assert.Equal(unit.Image[(SignalRole)i], record.Signals[i]);
        }

        Assert.Equal(unit.Functions, record.Functions);
        Assert.Equal(unit.Commands, record.Commands);
    }
}
