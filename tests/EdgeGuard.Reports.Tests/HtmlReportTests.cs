using System.Text.RegularExpressions;
using System.Xml;
using CsCheck;
using EdgeGuard.Reports.Charts;
using EdgeGuard.Reports.Html;

namespace EdgeGuard.Reports.Tests;

public sealed class HtmlReportTests
{
    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("\"><img src=x onerror='alert(1)'>")]
    [InlineData("</style></title></svg><b>")]
    [InlineData("a & b < c > d \" e ' f ]]> &amp; &#60;")]
    public void Markup_in_any_text_stays_text(string hostile)
    {
        XmlDocument page = Samples.Parse(Samples.Report(hostile).ToHtml());
        foreach (string element in (string[])["script", "img", "b"])
        {
            Assert.Equal(0, page.GetElementsByTagName(element).Count);
        }

        Assert.Equal(hostile, page.GetElementsByTagName("h1")[0]!.InnerText);
        Assert.Equal(hostile, page.GetElementsByTagName("pre")[0]!.InnerText);
        Assert.Equal(hostile, page.GetElementsByTagName("td")[0]!.InnerText);
        Assert.Contains(page.GetElementsByTagName("text").Cast<XmlNode>(), n => string.Equals(n.InnerText, hostile, StringComparison.Ordinal));
    }

    [Fact]
    public void A_table_holds_its_cells_as_text_and_refuses_a_row_of_another_length()
    {
        string html = new HtmlReport("T").Table(["a", "b"], [["1 < 2", "x"]]).ToHtml();
        Assert.Contains("<tr><th>a</th><th>b</th></tr></thead><tbody>\n<tr><td>1 &lt; 2</td><td>x</td></tr>", html, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => new HtmlReport("T").Table(["a", "b"], [["1"]]));
    }

    [Fact]
    public void Any_text_at_all_gives_a_well_formed_page()
    {
        Gen.Char['\0', '\uFFFF'].Array[0, 12].Sample(chars => Samples.Parse(Samples.Report(new string(chars)).ToHtml()).DocumentElement is not null, iter: 300);
    }

    [Fact]
    public void Characters_that_XML_cannot_carry_are_replaced_and_pairs_are_kept()
    {
        XmlDocument page = Samples.Parse(Samples.Report("a\u0000b\u001bc\uD83Dd \U0001F525").ToHtml());
        Assert.Equal("a\uFFFDb\uFFFDc\uFFFDd \U0001F525", page.GetElementsByTagName("h1")[0]!.InnerText);
    }

    [Fact]
    public void The_page_fetches_nothing_and_runs_nothing()
    {
        string page = Samples.Report("N-1").ToHtml();
        string withoutNames = page.Replace("xmlns=\"http://www.w3.org/1999/xhtml\"", "", StringComparison.Ordinal).Replace("xmlns=\"http://www.w3.org/2000/svg\"", "", StringComparison.Ordinal);
        Assert.DoesNotMatch(new Regex("https?:|//[a-z]|src=|href=|url\\(|@import|<script|<link|<iframe| on[a-z]+=", RegexOptions.IgnoreCase, TimeSpan.FromSeconds(5)), withoutNames);
    }

    [Theory]
    [InlineData(Verdict.Kept, "good", "kept")]
    [InlineData(Verdict.Broken, "bad", "BROKEN")]
    [InlineData(Verdict.NotJudged, "open", "not judged")]
    [InlineData((Verdict)99, "open", "not judged")]
    public void A_verdict_is_a_word_and_only_a_kept_limit_looks_good(Verdict verdict, string style, string word)
    {
        string html = new HtmlReport("t").KeyFigures("k", [new KeyFigure("n", "≤ 850 °C", "749 °C", verdict)]).ToHtml();
        XmlNode cell = Samples.Parse(html).GetElementsByTagName("td")[3]!;
        Assert.Equal(word, cell.InnerText);
        Assert.Equal("word " + style, cell.Attributes!["class"]!.Value);
    }

    [Fact]
    public void A_story_keeps_its_order_and_times()
    {
        string html = new HtmlReport("t").Story("s",
            [new StoryLine("00:10", "N-1", "first", ChartTone.Hot), new StoryLine("00:20", "A-1", "second", ChartTone.Neutral)]).ToHtml();
        string[] lines = Samples.Parse(html).GetElementsByTagName("li").Cast<XmlNode>().Select(n => n.InnerText).ToArray();
        Assert.Equal(["00:10N-1first", "00:20A-1second"], lines);
    }

    [Fact]
    public void The_marks_of_a_chart_are_explained_below_it_by_number()
    {
        XmlDocument page = Samples.Parse(Samples.Report("Blower stops").ToHtml());
        Assert.Equal("Blower stops", page.SelectSingleNode("//*[local-name()='figcaption']/*[local-name()='ol']/*[local-name()='li']")!.InnerText);
        Assert.Equal("1", page.SelectSingleNode("//*[local-name()='g'][@class='mark fault']/*[local-name()='text']")!.InnerText);
    }

    [Fact]
    public void The_states_of_a_chart_are_listed_below_it_with_their_start()
    {
        ChartStack stack = Samples.Stack("x") with { TimeLabel = null, Bands = [new ChartBand("PreFlow", 0, 1, ChartTone.Waiting), new ChartBand("Heating", 90, 180, ChartTone.Hot)] };
        XmlDocument page = Samples.Parse(new HtmlReport("t").Chart("c", stack).ToHtml());
        Assert.Equal("PreFlow from 0:00 · Heating from 1:30", page.SelectSingleNode("//*[local-name()='figcaption']/*[@class='note']")!.InnerText);
    }

    [Fact]
    public void The_file_is_UTF_8_without_a_mark_and_replaces_an_older_one()
    {
        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".html");
        try
        {
            File.WriteAllText(path, new string('x', 100_000));
            var report = new HtmlReport("30 K/min ≤ 60 °C");
            report.Save(path);
            byte[] bytes = File.ReadAllBytes(path);
            Assert.Equal((byte)'<', bytes[0]);
            Assert.Equal(report.ToHtml(), File.ReadAllText(path));
        }
        finally
        {
            File.Delete(path);
        }
    }
}
