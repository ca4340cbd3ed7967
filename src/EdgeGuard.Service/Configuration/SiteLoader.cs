using EdgeGuard.Service.Configuration.Building;
using EdgeGuard.Service.Configuration.Drafts;
using EdgeGuard.Service.Configuration.Json;
using EdgeGuard.Service.Configuration.Rules;

namespace EdgeGuard.Service.Configuration;

// The steps of a load: syntax, keys and values, maps, names, points, rules of meaning, and only then, without a single
// fault, the load of the links and the tables. A fault of syntax stands alone; all others are reported together.

/// <summary>Loads a site folder: `site.json` and the register maps it names.</summary>
public static class SiteLoader
{
    /// <summary>Name of the site file within a site folder.</summary>
    public const string SiteFileName = "site.json";

    /// <summary>Loads a site folder; never throws for what stands in it.</summary>
    /// <param name="folder">Path of the site folder.</param>
    /// <param name="options">Date and mode; null for today and the modes of the file.</param>
    /// <returns>A complete site, or all faults.</returns>
    public static SiteLoadResult Load(string folder, SiteLoadOptions? options = null)
    {
        ArgumentException.ThrowIfNullOrEmpty(folder);
        var faults = new FaultList();
        string fullPath = Path.GetFullPath(folder);
        SiteDraft? draft = ReadDraft(fullPath, options ?? new SiteLoadOptions(), faults);
        return new SiteLoadResult(draft is null ? null : Build(draft, fullPath, faults), faults.Sorted());
    }

    /// <summary>The poll list can be judged only when everything it is made of is right.</summary>
    private static SiteConfiguration? Build(SiteDraft draft, string folder, FaultList faults)
    {
        if (faults.Count > 0)
        {
            return null;
        }

        var plan = new PollPlan(draft);
        LoadRules.Check(draft, plan, faults);
        return faults.Count == 0 ? SiteBuilder.Build(draft, plan, folder) : null;
    }

    private static void ReportUnreadable(TextPosition top, string folder, string why, FaultList faults)
    {
        string found = $"no usable {SiteFileName} in {Quoted.Of(folder)}";
        if (File.Exists(folder))
        {
            faults.Add(top, "the site is no folder", $"the file {Quoted.Of(folder)}", $"the folder that holds {SiteFileName}", Quoted.Of(Path.GetDirectoryName(folder) ?? folder));
        }
        else if (File.Exists(Path.Combine(folder, SiteFileName)))
        {
            faults.Add(top, $"the site file cannot be read: {why}", found, "a file that this user may read", "to look at owner, rights and size of the file, or to run this as another user");
        }
        else
        {
            faults.Add(top, $"the site file cannot be read: {why}", found, "a site folder", "\"edgeguard init FOLDER\" to write one, or another path");
        }
    }

    private static SiteDraft? ReadDraft(string folder, SiteLoadOptions options, FaultList faults)
    {
        var top = new TextPosition(SiteFileName, 1, 1);
        byte[]? bytes = BoundedFile.Read(Path.Combine(folder, SiteFileName), out string? why);
        if (bytes is null)
        {
            ReportUnreadable(top, folder, why!, faults);
            return null;
        }

        SiteNode? root = SiteJsonReader.Read(SiteFileName, bytes, faults);
        if (root is null)
        {
            return null;
        }

        if (root.Kind != SiteNodeKind.Group)
        {
            faults.Add(root.At, "the site file holds no object", root.Describe(), "an object { … }", "to put all keys between { and }");
            return null;
        }

        var draft = new SiteDraft(root, options, faults);
        MapLoader.Load(draft, folder, faults);
        LinkSecurityLoader.Load(draft, folder, faults);
        if (!options.WithoutSettings)
        {
            SnapshotLoader.Load(draft, folder, faults);
        }

        ReferenceBinder.Bind(draft, faults);
        PointBinder.Bind(draft, faults);
        ReferenceBinder.ReportUnused(draft, faults);
        SiteRules.Check(draft, faults);
        return draft;
    }
}
