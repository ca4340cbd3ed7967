using System.Globalization;
using Microsoft.Win32.SafeHandles;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// A file in which the system tells of a process (/proc/PID, proc(5)). It stays open, so that a look costs one read and no
/// allocation. Elsewhere than on Linux, and when the process is gone, it says nothing.
/// </summary>
internal sealed class ProcFile : IDisposable
{
    // A look needs the first fields only: a process id of 7 digits, a name of 64 bytes (kernel threads; 15 for others), a few figures.
    private const int BytesMax = 256;

    private readonly SafeFileHandle? _file;
    private readonly byte[] _text = new byte[BytesMax];

    public ProcFile(int processId, string name)
    {
        try
        {
            _file = OperatingSystem.IsLinux() ? File.OpenHandle(string.Create(CultureInfo.InvariantCulture, $"/proc/{processId}/{name}")) : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The process is gone already, or nobody may look.
            _file = null;
        }
    }

    /// <summary>The beginning of what it says now, until the next call; empty when that is not to be had.</summary>
    public ReadOnlySpan<byte> Read()
    {
        if (_file is null)
        {
            return [];
        }

        try
        {
            return _text.AsSpan(0, RandomAccess.Read(_file, _text, 0));
        }
        catch (IOException)
        {
            return []; // it ended between two looks
        }
    }

    public void Dispose() => _file?.Dispose();
}
