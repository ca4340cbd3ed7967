using System.Buffers.Text;
using System.Globalization;
using Microsoft.Win32.SafeHandles;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Memory that a process holds in main memory, from the second figure of /proc/PID/statm (proc_pid_statm(5): resident set
/// size in pages). The file stays open, so that looking costs one read and no allocation. Elsewhere than on Linux unknown.
/// </summary>
internal sealed class ResidentMemory : IDisposable
{
    private readonly SafeFileHandle? _statm;
    private readonly byte[] _text = new byte[128];

    public ResidentMemory(int processId)
    {
        try
        {
            _statm = OperatingSystem.IsLinux() ? File.OpenHandle(string.Create(CultureInfo.InvariantCulture, $"/proc/{processId}/statm")) : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The process is gone already, or nobody may look: its heap limit remains.
            _statm = null;
        }
    }

    /// <summary>Bytes now; 0 when unknown.</summary>
    public long ReadBytes()
    {
        if (_statm is null)
        {
            return 0;
        }

        try
        {
            ReadOnlySpan<byte> text = _text.AsSpan(0, RandomAccess.Read(_statm, _text, 0));
            int second = text.IndexOf((byte)' ') + 1;
            return Utf8Parser.TryParse(text[second..], out long pages, out _) ? pages * Environment.SystemPageSize : 0;
        }
        catch (IOException)
        {
            return 0; // it ended between two looks
        }
    }

    public void Dispose() => _statm?.Dispose();
}
