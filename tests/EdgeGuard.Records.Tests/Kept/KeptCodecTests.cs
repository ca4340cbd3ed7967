using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using CsCheck;
using EdgeGuard.Records.Kept;

namespace EdgeGuard.Records.Tests.Kept;

public sealed class KeptCodecTests
{
    [Trait("requirement", "KEEP-1")]
    [Fact]
    public void What_is_written_reads_back_to_the_same_figures()
    {
        KeptSample.Gen.Sample(record =>
        {
            byte[] text = Write(record);
            Assert.True(KeptCodec.TryRead(text, out KeptRecord? read, out string fault), fault);
            Assert.Equal(text, Write(read!));
            Assert.Equal((record.Site, record.Unit, record.SinceUtcMs, record.SavedUtcMs, record.RunId), (read!.Site, read.Unit, read.SinceUtcMs, read.SavedUtcMs, read.RunId));
            Assert.Equal((record.Heating, record.TripCount, record.LastTrip, record.LastTripClass), (read.Heating, read.TripCount, read.LastTrip, read.LastTripClass));
            Assert.Equal(record.Counts, read.Counts);
            Assert.Equal(record.BandMs, read.BandMs);
            Assert.Equal(record.Duty, read.Duty);
            Assert.Equal(record.Stress, read.Stress);
            Assert.Equal((record.Loss, record.LossBasis), (read.Loss, read.LossBasis));
            Assert.Equal((record.Floors, record.FloorsBasis), (read.Floors, read.FloorsBasis));
            Assert.Equal(record.Legs, read.Legs);
            Assert.Equal((record.Leakage, record.Insulation), (read.Leakage, read.Insulation));
            Assert.Equal((record.LegsBasis, record.LegDay, record.LegDayBlocks, record.LegCycles), (read.LegsBasis, read.LegDay, read.LegDayBlocks, read.LegCycles));
        });
    }

    // The check that docs/reference/kept-figures.md gives to a stranger: GNU coreutils' sha256sum is the outside judge.
    [Trait("requirement", "KEEP-2")]
    [Fact]
    public void The_hash_in_the_last_line_is_that_of_sha256sum_over_the_lines_before()
    {
        using var folder = new TempFolder();
        string path = Path.Combine(folder.Path, "N-1.txt");
        byte[] text = Write(KeptSample.One());
        File.WriteAllBytes(path, text);
        using Process shell = Process.Start(new ProcessStartInfo("sh", ["-c", "head -n -1 \"$1\" | sha256sum", "sh", path]) { RedirectStandardOutput = true, UseShellExecute = false })!;
        string found = shell.StandardOutput.ReadToEnd();
        shell.WaitForExit();
        Assert.Equal(KeptCodec.HashOf(text), found[..64]);
        Assert.EndsWith("\nsha256 " + found[..64] + "\n", Encoding.UTF8.GetString(text), StringComparison.Ordinal);
    }

    [Trait("requirement", "KEEP-2")]
    [Fact]
    public void Any_byte_that_was_changed_and_any_cut_is_found()
    {
        byte[] text = Write(KeptSample.One());
        for (int i = 0; i < text.Length; i++)
        {
            byte[] changed = [.. text];
            changed[i] ^= 1;
            Assert.False(KeptCodec.TryRead(changed, out _, out string fault), $"byte {i}");
            Assert.NotEmpty(fault);
            Assert.False(KeptCodec.TryRead(text.AsSpan(0, i), out _, out _), $"cut at {i}");
        }
    }

    // A person who edits a figure and computes the hash anew still has to keep bounds and the one way of writing.
    [Theory]
    [InlineData("trips 3", "trips -3", "trips: found \"-3\"; expected 0 to 1000000000")]
    [InlineData("trips 3", "trips 1000000001", "trips: found \"1000000001\"; expected 0 to 1000000000")]
    [InlineData("trips 3", "trips 03", "a figure is written in another way than the guard writes it")]
    [InlineData("trips 3\n", "", "expected trips and a whole number")]
    [InlineData("deepest-led-k 1.1", "deepest-led-k NaN", "deepest-led-k: found \"NaN\"")]
    [InlineData("edgeguard-kept 1", "edgeguard-kept 2", "another version of the program wrote it")]
    [InlineData("\nsaved ", "\nfurther 1\nsaved ", "expected saved and a time")]
    [InlineData("unit N-1", "unit \u00fc\u00fc", "")]
    public void A_text_that_was_edited_and_hashed_anew_is_judged_by_its_lines(string from, string to, string expected)
    {
        string text = Encoding.UTF8.GetString(Write(KeptSample.One()));
        Assert.Contains(from, text, StringComparison.Ordinal);
        string body = text[..text.LastIndexOf("sha256 ", StringComparison.Ordinal)].Replace(from, to, StringComparison.Ordinal);
        byte[] edited = Encoding.UTF8.GetBytes(body + "sha256 " + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(body))) + "\n");
        Assert.Equal(expected.Length == 0, KeptCodec.TryRead(edited, out _, out string fault));
        Assert.Contains(expected, fault, StringComparison.Ordinal);
    }

    [Fact]
    public void A_figure_out_of_bounds_is_written_as_its_bound_so_that_the_file_can_be_read()
    {
        KeptRecord record = KeptSample.One();
        record.Duty = record.Duty with { RemainderJoule = double.PositiveInfinity, PoweredMs = -5 };
        record.Loss = new(-1, double.NaN, -0.0);
        Assert.True(KeptCodec.TryRead(Write(record), out KeptRecord? read, out string fault), fault);
        Assert.Equal((3_600.0, 0L), (read!.Duty.RemainderJoule, read.Duty.PoweredMs));
        Assert.Equal(default, read.Loss);
    }

    [Fact]
    public void Nothing_depends_on_the_culture_of_the_machine()
    {
        byte[] before = Write(KeptSample.One());
        CultureInfo culture = CultureInfo.CurrentCulture;
        try
        {
            // A decimal comma and another minus, as the culture of a country would bring them.
            var other = (CultureInfo)CultureInfo.InvariantCulture.Clone();
            (other.NumberFormat.NumberDecimalSeparator, other.NumberFormat.NegativeSign) = (",", "~");
            CultureInfo.CurrentCulture = other;
            Assert.Equal(before, Write(KeptSample.One()));
            Assert.True(KeptCodec.TryRead(before, out _, out string fault), fault);
        }
        finally
        {
            CultureInfo.CurrentCulture = culture;
        }
    }

    [Fact]
    public void Writing_allocates_nothing()
    {
        var codec = new KeptCodec();
        KeptRecord record = KeptSample.One();
        codec.Write(record);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 100; i++)
        {
            codec.Write(record);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Fact]
    public void The_hash_of_the_figures_changes_with_a_figure_and_not_with_the_time_of_saving()
    {
        var codec = new KeptCodec();
        KeptRecord record = KeptSample.One();
        codec.Write(record);
        byte[] before = codec.FiguresHash.ToArray();
        record.SavedUtcMs += 60_000;
        record.RunId = "20251125T160000000Z";
        codec.Write(record);
        Assert.True(codec.FiguresHash.SequenceEqual(before));
        record.Counts[3].Demands++;
        codec.Write(record);
        Assert.False(codec.FiguresHash.SequenceEqual(before));
    }

    private static byte[] Write(KeptRecord record)
    {
        var codec = new KeptCodec();
        codec.Write(record);
        return codec.Written.ToArray();
    }
}
