using EdgeGuard.Service.Configuration.Json;
using EdgeGuard.Service.Configuration.Schema;

namespace EdgeGuard.Service.Configuration.Drafts;

/// <summary>The whole site as the file states it, before it is judged.</summary>
internal sealed class SiteDraft
{
    public SiteDraft(SiteNode root, SiteLoadOptions options, FaultList faults)
    {
        Today = options.Today ?? DateOnly.FromDateTime(TimeProvider.System.GetUtcNow().UtcDateTime);
        NowUtc = options.Today?.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc) ?? TimeProvider.System.GetUtcNow().UtcDateTime;
        Section = new Section(root, SiteKeys.Site, faults);
        Name = Section.Text("site");
        ScanMs = Section.Number("scanMs");
        Publication = Section.Child("publication");
        Links = [.. Section.Children("links").Select(s => new LinkDraft(s, ScanMs))];
        Devices = [.. Section.Children("devices").Select((s, i) => new DeviceDraft(s, i))];
        Units = [.. Section.Children("units").Select((s, i) => new UnitDraft(s, i, options.Mode))];
    }

    public Section Section { get; }

    public DateOnly Today { get; }

    /// <summary>The moment certificates are judged at.</summary>
    public DateTime NowUtc { get; }

    public string? Name { get; }

    public double ScanMs { get; }

    public Section Publication { get; }

    public IReadOnlyList<LinkDraft> Links { get; }

    public IReadOnlyList<DeviceDraft> Devices { get; }

    public IReadOnlyList<UnitDraft> Units { get; }

    public DeviceDraft? FindDevice(string? name) =>
        name is null ? null : Devices.FirstOrDefault(d => string.Equals(d.Name, name, StringComparison.Ordinal));
}
