namespace EdgeGuard.Records.Journal;

/// <summary>An open file of the journal. See <see cref="IJournalStorage"/> for what it may throw.</summary>
public interface IJournalFile : IDisposable
{
    /// <summary>Writes all bytes at an offset; may leave a part of them when it throws.</summary>
    /// <param name="offset">Offset in bytes.</param>
    /// <param name="bytes">What to write.</param>
    void Write(long offset, ReadOnlySpan<byte> bytes);

    /// <summary>Cuts or extends the file.</summary>
    /// <param name="length">New length in bytes.</param>
    void SetLength(long length);

    /// <summary>Returns only when everything written is on the medium (fsync).</summary>
    void Sync();
}
