using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Reports.Charts;
using EdgeGuard.Reports.Html;

namespace EdgeGuard.Demo;

/// <summary>The report of a demo as one self-contained HTML file: verdict, ledger beside the limits, story, charts.</summary>
internal static class DemoReport
{
    public static void Save(string path, SiteTable site, DemoFindings findings, DemoStory story, DemoHistory history, DateTimeOffset start)
    {
        var report = new HtmlReport("EdgeGuard demo: two heaters of a pilot hall");
        report.Result(findings.AllKept ? Verdict.Kept : Verdict.Broken, findings.AllKept ? "Every limit was kept." : "A limit was broken; see the rows marked so.");
        report.Paragraph("A virtual plant and the guard ran as separate processes in lock-step and spoke Modbus over real sockets. The ledger below was kept by the plant at every step of 5 ms or less; the guard cannot write to it.");
        report.Paragraph(string.Create(CultureInfo.InvariantCulture, $"Simulated time from {start.UtcDateTime:yyyy-MM-dd HH:mm:ss} UTC. All plant figures are invented for the demonstration."));
        report.Note("EdgeGuard supplements hardwired safety and never replaces it. Local codes and licensed practice come first. The reaction time in this report is not the protection time: sensor, meter damping, watchdog and contactor come on top.");
        report.Heading("The ledger beside the limits");
        foreach ((string caption, IReadOnlyList<KeyFigure> figures) in findings.Tables)
        {
            report.KeyFigures(caption, figures);
        }

        report.Heading("What happened");
        report.Story("Times are simulated, from the start of the demo.", story.Lines);
        report.Heading("Charts");
        foreach (UnitTable unit in site.Units)
        {
            report.Chart(unit.Name, Charts(unit, history[unit.Name], story.Marks));
        }

        report.Save(path);
    }

    private static ChartStack Charts(UnitTable unit, UnitHistory history, IReadOnlyList<ChartMark> marks) => new(
        $"{unit.Name} over time",
        [
            new ChartPanel(
                "Temperature", "°C",
                [new("element", history.Element), new("outlet gas", history.Outlet), new("led setpoint", history.Led)],
                [new("element trip", unit.Elem.TripC, true), new("outlet trip", unit.Outl.TripC, true)]),
            new ChartPanel("Gas flow", "kg/h", [new("flow", history.Flow)], [new("minimum", unit.Flow.LimitKgPerHour, true), new("proving", unit.Flow.ProvingKgPerHour, false)]) { Height = 110 },
            new ChartPanel("Power", "kW", [new("power", history.Power)], [new("rated", unit.RatedPowerKw, false)]) { Height = 110 },
        ])
    {
        Bands = history.Bands(),
        Marks = [.. marks.Where(m => !m.Text.Contains(':', StringComparison.Ordinal) || m.Text.StartsWith(unit.Name, StringComparison.Ordinal))],
    };
}
