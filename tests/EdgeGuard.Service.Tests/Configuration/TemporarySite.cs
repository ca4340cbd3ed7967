namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>A copy of a site folder that a test may damage; removed afterwards.</summary>
internal sealed class TemporarySite : IDisposable
{
    public TemporarySite(string source)
    {
        Folder = Directory.CreateTempSubdirectory("edgeguard-site-").FullName;
        foreach (string file in Directory.EnumerateFiles(source))
        {
            File.Copy(file, Path.Combine(Folder, Path.GetFileName(file)));
        }
    }

    public string Folder { get; }

    public string Read(string file) => File.ReadAllText(Path.Combine(Folder, file));

    public void Replace(string file, string old, string with)
    {
        string text = Read(file);
        Assert.Contains(old, text, StringComparison.Ordinal);
        File.WriteAllText(Path.Combine(Folder, file), text.Replace(old, with, StringComparison.Ordinal));
    }

    public void Write(string file, byte[] bytes) => File.WriteAllBytes(Path.Combine(Folder, file), bytes);

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}
