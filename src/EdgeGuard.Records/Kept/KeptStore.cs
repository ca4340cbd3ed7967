using EdgeGuard.Records.Files;

namespace EdgeGuard.Records.Kept;

/// <summary>
/// The kept files in their folder, one a unit; each is replaced whole (<see cref="ReplacedFile"/>).
/// </summary>
public sealed class KeptStore
{
    private const string Suffix = ".txt";

    private readonly string _folder;
    private readonly Dictionary<string, ReplacedFile> _files = new(StringComparer.Ordinal);

    /// <summary>Names the folder; nothing is touched yet.</summary>
    /// <param name="folder">The folder; created at the first write.</param>
    public KeptStore(string folder)
    {
        ArgumentException.ThrowIfNullOrEmpty(folder);
        _folder = folder;
    }

    /// <summary>Name of the file of a unit with its folder, as the journal tells it wherever the data folder lies.</summary>
    /// <param name="unit">Name of the unit.</param>
    public string NameOf(string unit) => Path.GetFileName(_folder) + "/" + unit + Suffix;

    /// <summary>Path of the file of a unit.</summary>
    /// <param name="unit">Name of the unit.</param>
    public string PathOf(string unit) => Path.Combine(_folder, unit + Suffix);

    /// <summary>Reads the file of a unit. Never throws: what cannot be read is a fault in words.</summary>
    /// <param name="unit">Name of the unit.</param>
    /// <param name="record">The record; null where there is none.</param>
    /// <param name="hash">The SHA-256 of the file; empty where there is no record.</param>
    /// <param name="fault">What is wrong; empty where nothing is and where there is no file.</param>
    /// <returns>False where there is no record.</returns>
    public bool TryRead(string unit, out KeptRecord? record, out string hash, out string fault)
    {
        record = null;
        hash = fault = string.Empty;
        string path = PathOf(unit);
        try
        {
            if (!File.Exists(path))
            {
                return false;
            }

            long length = new FileInfo(path).Length;
            if (length > KeptTextWriter.BytesMax)
            {
                fault = $"{path}: {length} bytes; expected at most {KeptTextWriter.BytesMax}";
                return false;
            }

            byte[] text = File.ReadAllBytes(path);
            bool good = KeptCodec.TryRead(text, out record, out fault);
            fault = good ? string.Empty : $"{path}: {fault}";
            hash = good ? KeptCodec.HashOf(text) : string.Empty;
            return good;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            fault = $"{path}: {e.Message}";
            return false;
        }
    }

    /// <summary>Moves a file that cannot be used out of the way, so that a person can look at it.</summary>
    /// <param name="unit">Name of the unit.</param>
    /// <param name="name">Word behind the name, such as "damaged".</param>
    /// <returns>Its new path; null where it could not be moved.</returns>
    public string? SetAside(string unit, string name)
    {
        try
        {
            string aside = PathOf(unit) + "." + name;
            File.Move(PathOf(unit), aside, overwrite: true);
            return aside;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>Allocates what writing the file of a unit takes, and makes the folder where that can be done. Never throws for the folder: the write tells.</summary>
    /// <param name="unit">Name of the unit.</param>
    public void Prepare(string unit) => FileOf(unit).Prepare();

    /// <summary>Replaces the file of a unit. On Linux nothing is allocated where it was prepared. One thread at a time.</summary>
    /// <param name="unit">Name of the unit.</param>
    /// <param name="text">The whole text.</param>
    /// <exception cref="IOException">It could not be written; the file before it stands.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder may not be written.</exception>
    public void Write(string unit, ReadOnlySpan<byte> text)
    {
        FileOf(unit).Replace(text);
    }

    private ReplacedFile FileOf(string unit)
    {
        if (!_files.TryGetValue(unit, out ReplacedFile? file))
        {
            file = new ReplacedFile(_folder, unit + Suffix);
            _files.Add(unit, file);
        }

        return file;
    }
}
