namespace EdgeGuard.Service.Configuration;

/// <summary>One thing wrong in a site folder, with its place and a way out. Lines and columns count from 1.</summary>
/// <param name="File">Name of the file within the site folder.</param>
/// <param name="Line">Line, from 1.</param>
/// <param name="Column">Column in characters, from 1.</param>
/// <param name="What">What is wrong.</param>
/// <param name="Found">What stands there.</param>
/// <param name="Expected">What may stand there.</param>
/// <param name="Try">What to do about it.</param>
public sealed record SiteFault(string File, int Line, int Column, string What, string Found, string Expected, string Try)
{
    /// <summary>The form of every message of the program: file:line:column: what; found X; expected Y; try Z.</summary>
    public override string ToString() => $"{File}:{Line}:{Column}: {What}; found {Found}; expected {Expected}; try {Try}";
}
