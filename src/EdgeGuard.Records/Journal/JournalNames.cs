using System.Globalization;

namespace EdgeGuard.Records.Journal;

/// <summary>File names and limits of the journal folder.</summary>
public static class JournalNames
{
    /// <summary>The head file.</summary>
    public const string Head = "head";

    /// <summary>The lock file of the writing guard.</summary>
    public const string Lock = "lock";

    /// <summary>A segment is closed at the first batch after this many bytes, 16 MiB.</summary>
    public const long SegmentBytes = 16L << 20;

    /// <summary>Largest file a reader opens, 64 MiB: a segment and the largest batch fit many times.</summary>
    public const long FileBytesMax = 64L << 20;

    private const string Prefix = "journal-";
    private const string Suffix = ".log";
    private const int Digits = 6;

    /// <summary>Name of a segment, e.g. journal-000001.log.</summary>
    /// <param name="segment">Number from 1.</param>
    public static string Segment(int segment) => Prefix + segment.ToString("D6", CultureInfo.InvariantCulture) + Suffix;

    /// <summary>Number of a segment from its file name.</summary>
    /// <param name="name">File name without folder.</param>
    /// <returns>The number, or 0 when the name is not that of a segment.</returns>
    public static int SegmentOf(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        if (!name.StartsWith(Prefix, StringComparison.Ordinal) || !name.EndsWith(Suffix, StringComparison.Ordinal) || name.Length != Prefix.Length + Digits + Suffix.Length)
        {
            return 0;
        }

        return int.TryParse(name.AsSpan(Prefix.Length, Digits), NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : 0;
    }
}
