namespace EdgeGuard.Service.Configuration;

/// <summary>Collects faults during a load so that all are reported together, in the order of the text.</summary>
internal sealed class FaultList
{
    private readonly List<SiteFault> _faults = [];

    public int Count => _faults.Count;

    public void Add(TextPosition at, string what, string found, string expected, string advice)
    {
        var fault = new SiteFault(at.File, at.Line, at.Column, what, found, expected, advice);
        if (!_faults.Contains(fault))
        {
            _faults.Add(fault);
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
            .ToArray();
    }
}
