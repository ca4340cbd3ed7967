namespace EdgeGuard.Records.Tests;

/// <summary>Finds files of the repository from the folder of the test binary.</summary>
internal static class RepoFolder
{
    public static string File(params string[] parts)
    {
        for (DirectoryInfo? d = new(AppContext.BaseDirectory); d is not null; d = d.Parent)
        {
            if (System.IO.File.Exists(Path.Combine(d.FullName, "EdgeGuard.sln")))
            {
                return Path.Combine([d.FullName, .. parts]);
            }
        }

        throw new InvalidOperationException("EdgeGuard.sln not found above " + AppContext.BaseDirectory);
    }
}
