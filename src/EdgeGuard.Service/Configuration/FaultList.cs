namespace EdgeGuard.Service.Configuration;

/// <summary>Collects faults during a load so that all are reported together, in the order of the text.</summary>
internal sealed class FaultList
{
    /// <summary>No person reads more; a broken file of the largest size must not fill the memory.</summary>
    private const int MostFaults = 1_000;

    private readonly HashSet<SiteFault> _faults = [];

    public int Count => _faults.Count;

    public void Add(TextPosition at, string what, string found, string expected, string advice)
    {
        if (_faults.Count < MostFaults)
        {
            _faults.Add(new SiteFault(at.File, at.Line, at.Column, what, found, expected, advice));
        }
        else
        {
            _faults.Add(new SiteFault(SiteLoader.SiteFileName, 1, 1, $"there are more than {MostFaults} faults", "a file that is hardly a site", $"at most {MostFaults} faults to report", "to begin again with \"edgeguard init FOLDER\""));
        }
    }

    /// <summary>The site file first, then the maps by name; within a file by line and column.</summary>
    public IReadOnlyList<SiteFault> Sorted()
    {
        return _faults
            .OrderBy(f => string.Equals(f.File, SiteLoader.SiteFileName, StringComparison.Ordinal) ? 0 : 1)
            .ThenBy(f => f.File, StringComparer.Ordinal)
            .ThenBy(f => f.Line)
            .ThenBy(f => f.Column)
            .ThenBy(f => f.What, StringComparer.Ordinal)
            .ToArray();
    }
}
