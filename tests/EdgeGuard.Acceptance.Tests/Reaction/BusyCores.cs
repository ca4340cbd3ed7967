using System.Diagnostics;

namespace EdgeGuard.Acceptance.Tests.Reaction;

/// <summary>One process for each core that does nothing but compute, until disposed.</summary>
internal sealed class BusyCores : IDisposable
{
    // Looks now and then whether its parent still lives, so that a killed test leaves no busy machine behind.
    private const string Loop = "while kill -0 $PPID 2>/dev/null; do i=0; while [ $i -lt 1000000 ]; do i=$((i+1)); done; done";

    private readonly Process[] _loops;

    public BusyCores(int cores) =>
        _loops = [.. Enumerable.Range(0, cores).Select(static _ => Process.Start("/bin/sh", ["-c", Loop]))];

    public void Dispose()
    {
        foreach (Process loop in _loops)
        {
            loop.Kill();
            loop.WaitForExit();
            loop.Dispose();
        }
    }
}
