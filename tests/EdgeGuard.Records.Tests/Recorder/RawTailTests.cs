using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Recorder;

namespace EdgeGuard.Records.Tests.Recorder;

public sealed class RawTailTests
{
    [Fact]
    public void Recorded_scans_come_back_bit_for_bit_over_several_files()
    {
        using var folder = new TempFolder();
        RawScan scan = RecordsSite.NewScan();
        using (var tail = new RawTail(Options(folder) with { FileBytes = 20_000 }))
        {
            tail.Start();
            for (int i = 0; i < 200; i++)
            {
                RecordsSite.Fill(scan, i);
                Assert.True(SpinWait.SpinUntil(() => tail.TryRecord(scan), 60_000));
            }
        }

        IReadOnlyList<string> files = RawTailFolder.List(folder.Path);
        Assert.True(files.Count > 1);
        RawScan expected = RecordsSite.NewScan();
        int next = 0;
        foreach (string file in files)
        {
            using var reader = new RawTailReader(file);
            Assert.Equal(RecordsSite.RunId, reader.Header.RunId);
            Assert.Equal(RecordsSite.Digest, reader.Header.SiteDigest.ToArray());
            Assert.Equal(RecordsSite.WordCounts, reader.Header.BlockWordCounts);
            RawTailOutcome outcome;
            while ((outcome = reader.Read()) == RawTailOutcome.Good)
            {
                RecordsSite.Fill(expected, next++);
                AssertSame(expected, reader.Scan);
            }

            Assert.Equal(RawTailOutcome.End, outcome);
        }

        Assert.Equal(200, next);
    }

    [Fact]
    public void A_clock_that_is_set_back_does_not_make_the_newest_files_go_first()
    {
        using var folder = new TempFolder();
        // By their times each of these is newer than the one that follows here.
        foreach (string name in (string[])["tail-B-000003.bin", "tail-B-000002.bin", "tail-B-000001.bin", "tail-A-000002.bin", "tail-A-000001.bin"])
        {
            File.WriteAllBytes(folder.File(name), new byte[100]);
            Thread.Sleep(20);
        }

        Assert.Equal(["tail-B-000001.bin", "tail-B-000002.bin", "tail-B-000003.bin", "tail-A-000001.bin", "tail-A-000002.bin"], Names(folder));
        RawTailFolder.Trim(folder.Path, 300, keep: "tail-B-000003.bin");
        Assert.Equal(["tail-B-000001.bin", "tail-B-000002.bin", "tail-B-000003.bin"], Names(folder));
        RawTailFolder.Trim(folder.Path, 200, keep: "tail-B-000003.bin");
        Assert.Equal(["tail-B-000002.bin", "tail-B-000003.bin"], Names(folder));
    }

    private static IEnumerable<string?> Names(TempFolder folder) => RawTailFolder.List(folder.Path).Select(Path.GetFileName);

    [Fact]
    public void Whatever_goes_wrong_with_a_recording_is_told_and_never_ends_the_process()
    {
        using var folder = new TempFolder();
        // No folder can have this name, which the runtime says with an exception that is not about input and output.
        using var tail = new RawTail(Options(folder) with { Folder = folder.Path + "\0" });
        tail.Start();
        Assert.True(tail.TryRecord(RecordsSite.NewScan()));
        Assert.True(SpinWait.SpinUntil(() => tail.Failure.Length > 0, 10_000));
    }

    [Fact]
    public void Full_slots_drop_and_count_and_never_wait()
    {
        using var folder = new TempFolder();
        using var tail = new RawTail(Options(folder) with { Slots = 4 }); // not started: nothing drains
        RawScan scan = RecordsSite.NewScan();
        for (int i = 0; i < 7; i++)
        {
            Assert.Equal(i < 4, tail.TryRecord(scan));
        }

        Assert.Equal(3, tail.Dropped);
    }

    [Fact]
    public void Taking_a_copy_allocates_nothing()
    {
        using var folder = new TempFolder();
        using var tail = new RawTail(Options(folder));
        tail.Start();
        RawScan scan = RecordsSite.NewScan();
        RecordsSite.Fill(scan, 1);
        _ = tail.TryRecord(scan);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 100_000; i++)
        {
            _ = tail.TryRecord(scan);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Fact]
    public void A_recording_cut_or_changed_at_any_byte_gives_only_whole_scans_and_says_why_it_ends()
    {
        using var folder = new TempFolder();
        using (var tail = new RawTail(Options(folder)))
        {
            tail.Start();
            RawScan scan = RecordsSite.NewScan();
            for (int i = 0; i < 3; i++)
            {
                RecordsSite.Fill(scan, i);
                Assert.True(tail.TryRecord(scan));
            }
        }

        byte[] good = File.ReadAllBytes(Assert.Single(RawTailFolder.List(folder.Path)));
        int header = Options(folder).Header.ToBytes().Length;
        int record = (good.Length - header) / 3;
        string path = folder.File("copy.bin");
        for (int at = 0; at < good.Length; at++)
        {
            byte[] bad = [.. good];
            bad[at] ^= 0x10;
            File.WriteAllBytes(path, bad);
            int before = at < header ? -1 : (at - header) / record;
            Assert.Equal((before, RawTailOutcome.Damaged), ReadAll(path));

            File.WriteAllBytes(path, good[..at]);
            bool whole = at >= header && (at - header) % record == 0;
            RawTailOutcome end = at < header ? RawTailOutcome.Damaged : whole ? RawTailOutcome.End : RawTailOutcome.CutShort;
            Assert.Equal((before, end), ReadAll(path));
        }
    }

    [Fact]
    public void The_folder_stays_in_its_bound_and_the_oldest_go_first()
    {
        using var folder = new TempFolder();
        RawScan scan = RecordsSite.NewScan();
        using (var tail = new RawTail(Options(folder) with { FileBytes = 5_000, TotalBytes = 20_000 }))
        {
            tail.Start();
            for (int i = 0; i < 400; i++)
            {
                RecordsSite.Fill(scan, i);
                Assert.True(SpinWait.SpinUntil(() => tail.TryRecord(scan), 60_000));
            }
        }

        IReadOnlyList<string> files = RawTailFolder.List(folder.Path);
        Assert.InRange(files.Sum(f => new FileInfo(f).Length), 1, 20_000);
        using var reader = new RawTailReader(files[^1]);
        Assert.Equal(RawTailOutcome.Good, reader.Read());
        Assert.True(reader.Scan.Scan > 350);
    }

    [Fact]
    public void A_folder_that_cannot_be_written_shows_as_failure_and_the_scan_goes_on()
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.File("taken"), string.Empty);
        using var tail = new RawTail(Options(folder) with { Folder = folder.File("taken"), Slots = 2 });
        tail.Start();
        RawScan scan = RecordsSite.NewScan();
        Assert.True(tail.TryRecord(scan));
        Assert.True(SpinWait.SpinUntil(() => tail.Failure.Length > 0, 60_000));
        Assert.True(tail.TryRecord(scan));
        Assert.False(tail.TryRecord(scan));
    }

    private static void AssertSame(RawScan expected, RawScan found)
    {
        byte[] a = new byte[RawScanCodec.Size(expected)];
        byte[] b = new byte[RawScanCodec.Size(found)];
        RawScanCodec.Encode(expected, a);
        RawScanCodec.Encode(found, b);
        Assert.Equal(a, b);
        Assert.Equal((expected.Scan, expected.UtcUnixMs, expected.Clock, expected.Journal, expected.DurableEvent, expected.GapMs, expected.SkippedScans), (found.Scan, found.UtcUnixMs, found.Clock, found.Journal, found.DurableEvent, found.GapMs, found.SkippedScans));
        Assert.Equal(expected.Requests, found.Requests);
        Assert.Equal(expected.Feedback, found.Feedback);
        for (int i = 0; i < expected.Blocks.Length; i++)
        {
            Assert.Equal(expected.Blocks[i].Words, found.Blocks[i].Words);
            Assert.Equal((expected.Blocks[i].Result, expected.Blocks[i].ExceptionCode, expected.Blocks[i].AgeMs, expected.Blocks[i].ReadCount), (found.Blocks[i].Result, found.Blocks[i].ExceptionCode, found.Blocks[i].AgeMs, found.Blocks[i].ReadCount));
        }
    }

    private static (int Good, RawTailOutcome End) ReadAll(string path)
    {
        try
        {
            using var reader = new RawTailReader(path);
            int good = 0;
            RawTailOutcome outcome;
            while ((outcome = reader.Read()) == RawTailOutcome.Good)
            {
                good++;
            }

            return (good, outcome);
        }
        catch (InvalidDataException)
        {
            return (-1, RawTailOutcome.Damaged);
        }
    }

    private static RawTailOptions Options(TempFolder folder) => new()
    {
        Folder = folder.Path,
        Header = new RawTailHeader { RunId = RecordsSite.RunId, SiteDigest = RecordsSite.Digest, UnitCount = 2, BlockWordCounts = RecordsSite.WordCounts },
    };
}
