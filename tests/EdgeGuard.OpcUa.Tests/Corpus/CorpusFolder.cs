using EdgeGuard.OpcUa.Tests.AddressSpace;

namespace EdgeGuard.OpcUa.Tests.Corpus;

/// <summary>The folders of tests/corpus/opcua; what each holds is said in the README there.</summary>
internal static class CorpusFolder
{
    public static IReadOnlyList<CorpusFile> Frames { get; } = Load("frames");

    public static IReadOnlyList<CorpusFile> Requests { get; } = Load("requests");

    public static IReadOnlyList<CorpusFile> Responses { get; } = Load("responses");

    /// <summary>Values of the built-in types, with those that once found a fault.</summary>
    public static IReadOnlyList<CorpusFile> Values { get; } = [.. Load("values"), .. Load("found").Where(static file => !IsRequest(file))];

    /// <summary>Requests that once found a fault in a server.</summary>
    public static IReadOnlyList<CorpusFile> FoundRequests { get; } = [.. Load("found").Where(IsRequest)];

    private static bool IsRequest(CorpusFile file) => file.Type.EndsWith("Request", StringComparison.Ordinal);

    private static CorpusFile[] Load(string folder) =>
        [.. Directory.EnumerateFiles(RepoFile.Path("tests/corpus/opcua/" + folder), "*.hex").Order(StringComparer.Ordinal).Select(Read)];

    private static CorpusFile Read(string path)
    {
        string[] lines = File.ReadAllLines(path);
        string hex = string.Concat(lines.Where(static line => !line.StartsWith('#')).Select(static line => line.Trim()));
        return new CorpusFile(Path.GetFileNameWithoutExtension(path), [.. lines.Where(static line => line.StartsWith('#')).Select(static line => line[1..].Trim())], Convert.FromHexString(hex));
    }
}
