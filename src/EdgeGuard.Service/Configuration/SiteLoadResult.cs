namespace EdgeGuard.Service.Configuration;

/// <summary>What loading a site folder gives: either a complete site or every fault found, never both.</summary>
public sealed class SiteLoadResult
{
    internal SiteLoadResult(SiteConfiguration? site, IReadOnlyList<SiteFault> faults)
    {
        if ((site is null) != (faults.Count > 0))
        {
            throw new InvalidOperationException("A load result holds either a site or faults.");
        }

        Site = site;
        Faults = faults;
    }

    /// <summary>The complete site; null if there is any fault.</summary>
    public SiteConfiguration? Site { get; }

    /// <summary>All faults, ordered by file, line and column; empty if and only if <see cref="Site"/> is present.</summary>
    public IReadOnlyList<SiteFault> Faults { get; }
}
