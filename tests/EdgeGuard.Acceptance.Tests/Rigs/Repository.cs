namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>Finds the repository and the program built in it from the folder of the test binary.</summary>
internal static class Repository
{
    public static string Root { get; } = Find();

    /// <summary>The program as `dotnet build -c Release` makes it.</summary>
    public static string Program { get; } = File("artifacts", "bin", "EdgeGuard", "release", "edgeguard");

    /// <summary>A path below the root.</summary>
    public static string File(params string[] parts) => Path.Combine([Root, .. parts]);

    private static string Find()
    {
        for (DirectoryInfo? d = new(AppContext.BaseDirectory); d is not null; d = d.Parent)
        {
            if (System.IO.File.Exists(Path.Combine(d.FullName, "EdgeGuard.sln")))
            {
                return d.FullName;
            }
        }

        throw new InvalidOperationException("EdgeGuard.sln not found above " + AppContext.BaseDirectory);
    }
}
