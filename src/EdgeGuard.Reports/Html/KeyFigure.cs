namespace EdgeGuard.Reports.Html;

/// <summary>One row of a table of key figures.</summary>
/// <param name="Name">What was measured.</param>
/// <param name="Limit">The limit with its unit, such as "≤ 850 °C"; empty when there is none.</param>
/// <param name="Actual">The value with its unit.</param>
/// <param name="Verdict">Whether the limit was kept.</param>
public sealed record KeyFigure(string Name, string Limit, string Actual, Verdict Verdict);
