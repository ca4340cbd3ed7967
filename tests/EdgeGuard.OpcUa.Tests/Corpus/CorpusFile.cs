namespace EdgeGuard.OpcUa.Tests.Corpus;

/// <summary>One input of tests/corpus/opcua: hexadecimal text below lines of comment (#) that say where it comes from.</summary>
/// <param name="Name">File name without its ending; what stands before the last dash is the type of the message.</param>
/// <param name="Comments">The lines of comment without their mark.</param>
/// <param name="Bytes">The input.</param>
internal sealed record CorpusFile(string Name, IReadOnlyList<string> Comments, byte[] Bytes)
{
    /// <summary>Type of the message, by the name of the file.</summary>
    public string Type => Name[..Name.LastIndexOf('-')];

    /// <summary>The rest of the comment that begins so, or null.</summary>
    public string? Told(string prefix) => Comments.FirstOrDefault(line => line.StartsWith(prefix, StringComparison.Ordinal))?[prefix.Length..].Trim();
}
