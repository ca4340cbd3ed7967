namespace EdgeGuard.Records.Journal;

/// <summary>One finding with its place.</summary>
/// <param name="File">File name without folder.</param>
/// <param name="Line">Line in that file, from 1.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Text">What was found, what was expected.</param>
public sealed record JournalFinding(string File, int Line, JournalFindingKind Kind, string Text)
{
    /// <summary>The finding as one line of text, file:line first.</summary>
    public override string ToString() => $"{File}:{Line}: {Text}";
}
