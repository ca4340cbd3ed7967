using EdgeGuard.Core.Interlocks;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>The example site of the repository, loaded as the program loads it.</summary>
internal static class GuardSites
{
    public static SiteConfiguration PilotHall()
    {
        SiteLoadResult loaded = SiteLoader.Load(Path.Combine(Root(), "config", "pilot-hall"), new SiteLoadOptions { Today = new DateOnly(2026, 3, 1) });
        return loaded.Site ?? throw new InvalidOperationException(string.Join('\n', loaded.Faults));
    }

    public static SiteTable Table() => PilotHall().Table;

    private static string Root()
    {
        for (DirectoryInfo? d = new(AppContext.BaseDirectory); d is not null; d = d.Parent)
        {
            if (File.Exists(Path.Combine(d.FullName, "EdgeGuard.sln")))
            {
                return d.FullName;
            }
        }

        throw new InvalidOperationException("EdgeGuard.sln not found above " + AppContext.BaseDirectory);
    }
}
