namespace EdgeGuard.Reports.Html;

/// <summary>Whether a figure kept its limit.</summary>
public enum Verdict : byte
{
    /// <summary>It could not be judged; never shown as good.</summary>
    NotJudged = 0,

    /// <summary>The limit was broken.</summary>
    Broken = 1,

    /// <summary>The limit was kept.</summary>
    Kept = 2,

    /// <summary>A figure without a limit, for information.</summary>
    Information = 3,
}
