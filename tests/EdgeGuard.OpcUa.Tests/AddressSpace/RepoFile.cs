namespace EdgeGuard.OpcUa.Tests.AddressSpace;

/// <summary>Files of the repository, found from the folder of the test program upwards.</summary>
internal static class RepoFile
{
    public static string Path(string relative)
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(System.IO.Path.Combine(folder.FullName, "EdgeGuard.sln")))
            {
                return System.IO.Path.Combine(folder.FullName, relative);
            }
        }

        throw new InvalidOperationException("EdgeGuard.sln not found above " + AppContext.BaseDirectory);
    }
}
