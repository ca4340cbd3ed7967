namespace EdgeGuard.Architecture.Tests;

/// <summary>Finds the repository from the folder of the test binary.</summary>
internal static class RepoFolder
{
    public static string Root { get; } = Find();

    public static IEnumerable<string> TrackedLikeFiles(params string[] folders) =>
        folders.SelectMany(f => Directory.EnumerateFiles(Path.Combine(Root, f), "*", SearchOption.AllDirectories))
            .Where(f => !f.Contains("/obj/", StringComparison.Ordinal) && !f.Contains("/bin/", StringComparison.Ordinal));

    private static string Find()
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
