using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>Names of site, links, devices and units: usable in paths and journal lines, and each once.</summary>
internal static class NameRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        CheckAll("site", "site", [site.Section], faults);
        CheckAll("link", "name", site.Links.Select(l => l.Section), faults);
        CheckAll("device", "name", site.Devices.Select(d => d.Section), faults);
        CheckAll("unit", "name", site.Units.Select(u => u.Section), faults);
    }

    private static void CheckAll(string kind, string key, IEnumerable<Section> sections, FaultList faults)
    {
        // Without regard to case: unit names become file names, and not every file system tells case apart.
        var seen = new Dictionary<string, TextPosition>(StringComparer.OrdinalIgnoreCase);
        foreach (Section section in sections)
        {
            if (section.Text(key) is not { } name)
            {
                continue;
            }

            TextPosition at = section.At(key);
            if (!PlainName.IsOne(name))
            {
                faults.Add(at, $"the name of the {kind} cannot be used", Quoted.Of(name), PlainName.Expectation, "a name such as \"N-1\"");
            }
            else if (!seen.TryAdd(name, at))
            {
                faults.Add(at, $"two {kind}s have the same name", $"{Quoted.Of(name)}, which stands at line {seen[name].Line} already", "each name once", "to rename one of the two");
            }
        }
    }
}
