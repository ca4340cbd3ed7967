using EdgeGuard.Core.Interlocks;
using EdgeGuard.Reports.Html;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.ReactionTimes;

namespace EdgeGuard.Commands;

/// <summary>The cause-and-effect matrix and the reaction times of a site as one self-contained HTML page.</summary>
internal static class MatrixPage
{
    public static string Write(SiteConfiguration site)
    {
        var page = new HtmlReport($"Cause and effect: {site.Table.Name}");
        page.Note($"Settings digest {site.SettingsDigest}. Supervisory software interlocks: they supplement the hardwired safety and never replace it.");
        page.Note(ReactionBudget.Caveat);
        IReadOnlyList<EffectRow> rows = EffectMatrix.Of(site);
        for (int i = 0; i < site.Table.Units.Count; i++)
        {
            UnitTable unit = site.Table.Units[i];
            page.Heading($"{unit.Name}: causes and effects");
            page.Table(
                [.. EffectMatrixText.Heads.Skip(1)],
                [.. rows.Where(r => string.Equals(r.Unit, unit.Name, StringComparison.Ordinal)).Select(r => (IReadOnlyList<string>)[.. EffectMatrixText.Cells(r).Skip(1)])]);
            page.Heading($"{unit.Name}: reaction times");
            WriteBudgets(page, site.Units[i].Budgets);
        }

        return page.ToHtml();
    }

    private static void WriteBudgets(HtmlReport page, IReadOnlyList<ReactionBudget> budgets)
    {
        if (budgets.Count == 0)
        {
            page.Paragraph("Not known: the site does not state \"reaction\" for this unit.");
            return;
        }

        page.Table(
            ["scenario", "function", "by command", "at worst", "process safety time", "verdict", "chain at worst"],
            [.. budgets.Select(b => (IReadOnlyList<string>)
            [
                b.ScenarioName, b.FunctionName, BudgetTerm.Seconds(b.CommandMs), BudgetTerm.Seconds(b.WorstMs),
                $"{BudgetTerm.Seconds(b.AvailableMs)} ({b.AvailableWords})", b.VerdictWords, string.Join(" + ", b.WorstTerms),
            ])]);
        page.Note("A sheathed element sensor is no cover for dry fire; minimum flow (FLOW) is.");
    }
}
