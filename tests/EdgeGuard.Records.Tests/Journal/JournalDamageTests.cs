using EdgeGuard.Records.Journal;

namespace EdgeGuard.Records.Tests.Journal;

/// <summary>
/// Every byte of a journal of fifty lines is changed, cut, removed or moved; the verifier has to name the place each
/// time. Exhaustive over positions, because a verifier that misses one place misses the place that matters.
/// </summary>
public sealed class JournalDamageTests
{
    private const string Log = "journal-000001.log";

    [Trait("requirement", "JOUR-1")]
    [Theory]
    [InlineData(JournalNames.SegmentBytes, 1, 0x01, 0x20)]
    [InlineData(4000, 3, 0x80)]
    public void Any_changed_byte_of_any_line_is_named_by_file_and_line(long segmentBytes, int segments, params int[] flips)
    {
        using FaultyStorage golden = Sample.Fifty(segmentBytes);
        Assert.Empty(JournalVerifier.Verify(golden).Findings);
        string[] files = [.. golden.List().Where(n => JournalNames.SegmentOf(n) > 0)];
        Assert.Equal(segments, files.Length);
        foreach (string file in files)
        {
            byte[] good = golden.Read(file);
            int[] lines = LineOfEachByte(good);
            Parallel.For(0, good.Length, at =>
            {
                foreach (int flip in flips)
                {
                    AssertNamed(golden, file, good, at, (byte)(good[at] ^ flip), lines[at]);
                }

                if (good[at] != '\n')
                {
                    AssertNamed(golden, file, good, at, (byte)'\n', lines[at]);
                }
            });
        }
    }

    [Fact]
    public void Any_changed_byte_of_the_head_is_named()
    {
        using FaultyStorage golden = Sample.Fifty();
        byte[] good = golden.Read("head");
        Assert.Equal(JournalHead.Size, good.Length);
        for (int at = 0; at < good.Length; at++)
        {
            for (int bit = 0; bit < 8; bit++)
            {
                byte[] bad = [.. good];
                bad[at] ^= (byte)(1 << bit);
                using FaultyStorage storage = golden.Copy();
                storage.Put("head", bad);
                JournalFinding finding = Assert.Single(JournalVerifier.Verify(storage).Findings);
                Assert.Equal(("head", 1, JournalFindingKind.HeadDamaged), (finding.File, finding.Line, finding.Kind));
            }
        }
    }

    [Fact]
    public void A_journal_cut_at_any_byte_is_told_against_the_head()
    {
        using FaultyStorage golden = Sample.Fifty();
        byte[] good = golden.Read(Log);
        Parallel.For(0, good.Length, length =>
        {
            using FaultyStorage storage = golden.Copy();
            storage.Put(Log, good[..length]);
            IReadOnlyList<JournalFinding> findings = JournalVerifier.Verify(storage).Findings;
            JournalFinding end = findings[^1];
            Assert.Equal(JournalFindingKind.MissingEnd, end.Kind);
            int whole = good.AsSpan(0, length).Count((byte)'\n');
            Assert.Contains($"ends at {whole}, head says 50", end.Text, StringComparison.Ordinal);
            bool partial = length > 0 && good[length - 1] != '\n';
            Assert.Equal(partial ? 2 : 1, findings.Count);
            if (partial)
            {
                Assert.Equal((JournalFindingKind.Damage, whole + 1), (findings[0].Kind, findings[0].Line));
            }
        });
    }

    [Fact]
    public void Bytes_beyond_the_head_are_a_torn_tail_and_whole_lines_beyond_it_are_good()
    {
        using FaultyStorage golden = Sample.Fifty();
        byte[] good = golden.Read(Log);
        int[] ends = LineEnds(good);
        JournalHead head = JournalHead.Parse(golden.Read("head"))!;
        string hash40 = System.Text.Encoding.ASCII.GetString(good, ends[39] - 65, 64);
        golden.Put("head", (head with { Number = 40, Length = ends[39], Hash = hash40 }).ToBytes());
        for (int length = ends[39]; length <= good.Length; length++)
        {
            using FaultyStorage storage = golden.Copy();
            storage.Put(Log, good[..length]);
            JournalReport report = JournalVerifier.Verify(storage);
            int whole = good.AsSpan(0, length).Count((byte)'\n');
            Assert.Equal(whole, report.LastNumber);
            int torn = length - ends[whole - 1];
            Assert.Equal(torn, report.TornBytes);
            Assert.Equal(torn == 0 ? [] : [JournalFindingKind.TornTail], report.Findings.Select(f => f.Kind));
        }
    }

    [Trait("requirement", "JOUR-1")]
    [Fact]
    public void Lines_removed_repeated_or_swapped_anywhere_are_named()
    {
        using FaultyStorage golden = Sample.Fifty();
        byte[][] lines = Split(golden.Read(Log));
        Assert.Equal(50, lines.Length);
        for (int i = 0; i < lines.Length; i++)
        {
            byte[][] without = [.. lines[..i], .. lines[(i + 1)..]];
            AssertFirst(golden, without, Math.Min(i + 1, 49));
            AssertFirst(golden, [.. lines[..(i + 1)], .. lines[i..]], i + 2);
            if (i + 1 < lines.Length)
            {
                AssertFirst(golden, [.. lines[..i], lines[i + 1], lines[i], .. lines[(i + 2)..]], i + 1);
            }
        }
    }

    [Fact]
    public void A_missing_repeated_or_exchanged_segment_is_named()
    {
        using FaultyStorage golden = Sample.Fifty(segmentBytes: 4000);
        foreach (string file in golden.List().Where(n => JournalNames.SegmentOf(n) > 0))
        {
            using FaultyStorage storage = golden.Copy();
            storage.Remove(file);
            Assert.NotEmpty(JournalVerifier.Verify(storage).Findings);
        }

        using FaultyStorage exchanged = golden.Copy();
        exchanged.Put("journal-000002.log", golden.Read("journal-000003.log"));
        exchanged.Put("journal-000003.log", golden.Read("journal-000002.log"));
        Assert.Equal(("journal-000002.log", 1), Place(JournalVerifier.Verify(exchanged).Findings[0]));
    }

    [Fact]
    public void A_journal_rewritten_whole_with_right_hashes_is_told_against_the_head()
    {
        using FaultyStorage golden = Sample.Fifty();
        using var other = new FaultyStorage();
        using (var writer = new JournalWriter(other, Sample.Run() with { Id = "forged" }))
        {
            writer.Open();
            Sample.Write(writer, 48);
            writer.CommitLines();
        }

        golden.Put(Log, other.Read(Log));
        Assert.Equal((Log, 50), Place(Assert.Single(JournalVerifier.Verify(golden).Findings)));
    }

    [Fact]
    public void A_missing_head_is_told_and_a_second_damage_is_still_seen_after_the_first()
    {
        using FaultyStorage golden = Sample.Fifty();
        golden.Remove("head");
        byte[] bytes = golden.Read(Log);
        int[] ends = LineEnds(bytes);
        bytes[ends[9] - 70] ^= 1; // body of line 10
        bytes[ends[29] - 5] ^= 1; // hash of line 30
        golden.Put(Log, bytes);
        Assert.Equal([(Log, 10), (Log, 30), ("head", 1)], JournalVerifier.Verify(golden).Findings.Select(Place));
    }

    private static void AssertNamed(FaultyStorage golden, string file, byte[] good, int at, byte value, int line)
    {
        byte[] bad = [.. good];
        bad[at] = value;
        using FaultyStorage storage = golden.Copy();
        storage.Put(file, bad);
        JournalFinding first = JournalVerifier.Verify(storage).Findings[0];
        Assert.Equal((file, line), Place(first));
        Assert.Equal(JournalFindingKind.Damage, first.Kind);
    }

    private static void AssertFirst(FaultyStorage golden, byte[][] lines, int line)
    {
        using FaultyStorage storage = golden.Copy();
        storage.Put(Log, [.. lines.SelectMany(l => l)]);
        Assert.Equal((Log, line), Place(JournalVerifier.Verify(storage).Findings[0]));
    }

    private static (string File, int Line) Place(JournalFinding finding) => (finding.File, finding.Line);

    private static int[] LineOfEachByte(byte[] bytes)
    {
        int line = 1;
        return [.. bytes.Select(b => b == '\n' ? line++ : line)];
    }

    private static int[] LineEnds(byte[] bytes) => [.. Enumerable.Range(0, bytes.Length).Where(i => bytes[i] == '\n').Select(i => i + 1)];

    private static byte[][] Split(byte[] bytes)
    {
        int[] ends = LineEnds(bytes);
        return [.. ends.Select((end, i) => bytes[(i == 0 ? 0 : ends[i - 1])..end])];
    }
}
