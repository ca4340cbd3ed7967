using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Commands;

/// <summary>What several commands do with a site folder.</summary>
internal static class SiteFolder
{
    /// <summary>Prints every fault of a site that cannot be used; the exit code for that.</summary>
    public static int Refuse(SiteLoadResult loaded)
    {
        foreach (SiteFault fault in loaded.Faults)
        {
            Console.Error.WriteLine(fault.ToString());
        }

        Console.Error.WriteLine($"edgeguard: {Counted.Of(loaded.Faults.Count, "fault")} in the site; nothing was started");
        return ExitCode.Configuration;
    }

    /// <summary>
    /// The data folder of a site. A guard keeps running on the site it has loaded when the file is broken afterwards, so
    /// that a fault is no reason not to talk to it: then the folder `data` is taken if a guard's socket is there.
    /// </summary>
    public static string? DataFolder(string folder, out SiteLoadResult loaded)
    {
        loaded = SiteLoader.Load(folder);
        string usual = Path.GetFullPath(Path.Combine(folder, "data"));
        return loaded.Site?.DataFolder ?? (File.Exists(RequestClient.SocketPath(usual)) ? usual : null);
    }
}
