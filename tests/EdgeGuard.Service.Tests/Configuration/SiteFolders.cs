namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>Finds folders of the repository from the test's own place.</summary>
internal static class SiteFolders
{
    public static string Root { get; } = FindRoot();

    public static string PilotHall => Path.Combine(Root, "config", "pilot-hall");

    public static string Minimal => Path.Combine(Root, "config", "minimal");

    public static string Golden => Path.Combine(Root, "tests", "EdgeGuard.Service.Tests", "Configuration", "golden");

    private static string FindRoot()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "EdgeGuard.sln")))
            {
                return folder.FullName;
            }
        }

        throw new InvalidOperationException("The tests must run inside the repository.");
    }
}
