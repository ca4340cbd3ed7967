using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Records.Tests.Journal;

public sealed class EventRegistryTests
{
    [Fact]
    public void Ids_and_texts_are_those_of_the_reviewed_list_which_only_ever_grows()
    {
        string[] rows = File.ReadAllLines(RepoFolder.File("docs", "reference", "event-ids.csv"))[1..];
        Assert.Equal(rows.Select(r => string.Join(',', r.Split(',')[..2])), EventRegistry.All.Select(p => $"{p.Key},{p.Value}"));
    }

    [Fact]
    public void Every_id_of_core_and_shell_has_a_text_of_its_own_and_its_owner_s_range()
    {
        int[] core = [.. Enum.GetValues<EventId>().Where(e => e != EventId.None).Select(e => (int)e)];
        int[] shell = [.. Enum.GetValues<ShellEventId>().Where(e => e != ShellEventId.None).Select(e => (int)e)];
        Assert.All(core, id => Assert.InRange(id, 100, 199));
        Assert.All(shell, id => Assert.True(id is (>= 1 and <= 99) or >= 200, $"{id} is the core's"));
        Assert.Equal(core.Concat(shell).Order(), EventRegistry.All.Keys);
        Assert.Equal(EventRegistry.All.Count, EventRegistry.All.Values.Distinct(StringComparer.Ordinal).Count());
    }

    [Theory]
    [InlineData(69.3124, "kg/h", "69.312 kg/h")]
    [InlineData(-0.0005, "K", "-0.001 K")]
    [InlineData(0, "", "0.000")]
    [InlineData(double.NaN, "K", "unknown")]
    [InlineData(double.NegativeInfinity, "K", "beyond range")]
    [InlineData(1e300, "K", "beyond range")]
    public void Quantities_are_thousandths_as_integers(double value, string unit, string text) => Assert.Equal(text, Quantity.Format(value, unit));

    [Fact]
    public void The_smallest_integer_is_formatted_too() => Assert.Equal("-9223372036854775.808 K", Quantity.FormatMilli(long.MinValue, "K"));

    [Fact]
    public void A_time_outside_the_calendar_does_not_keep_an_event_out()
    {
        Assert.Equal("2026-01-01T00:00:00.000Z", JournalLineCodec.FormatUtc(Sample.Utc));
        Assert.Equal("unix-ms:9223372036854775807", JournalLineCodec.FormatUtc(long.MaxValue));
    }

    [Fact]
    public void Any_text_in_an_entry_gives_one_line_that_reads_back_the_same()
    {
        CsCheck.Check.Sample(
            CsCheck.Gen.String,
            text =>
            {
                byte[] body = JournalLineCodec.Format(new JournalEntry { Id = 200, UtcUnixMs = 0, Text = text }, 1, "r", null);
                Assert.True(body.AsSpan().IndexOfAnyInRange((byte)0, (byte)0x1f) < 0);
                string expected = System.Text.Encoding.UTF8.GetString(System.Text.Encoding.UTF8.GetBytes(text)); // half a pair becomes U+FFFD
                Assert.Equal(expected, JournalRecord.Parse(body)!["text"]);
            },
            iter: 2000);
    }
}
