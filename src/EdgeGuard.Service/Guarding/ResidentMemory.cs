using System.Buffers.Text;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Memory that a process holds in main memory, from the second figure of /proc/PID/statm (proc_pid_statm(5): resident set
/// size in pages). Elsewhere than on Linux unknown: there the heap limit of the process remains.
/// </summary>
internal sealed class ResidentMemory : IDisposable
{
    private readonly ProcFile _statm;

    public ResidentMemory(int processId) => _statm = new ProcFile(processId, "statm");

    /// <summary>Bytes now; 0 when unknown.</summary>
    public long ReadBytes()
    {
        ReadOnlySpan<byte> text = _statm.Read();
        int second = text.IndexOf((byte)' ') + 1;
        return Utf8Parser.TryParse(text[second..], out long pages, out _) ? pages * Environment.SystemPageSize : 0;
    }

    public void Dispose() => _statm.Dispose();
}
