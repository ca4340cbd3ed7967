using System.Diagnostics;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>A foreign server that prints one line when it is ready, and ends with this object.</summary>
internal sealed class ForeignPeer : IDisposable
{
    private readonly Process _process;

    public ForeignPeer(string file, params string[] arguments)
    {
        _process = PeerProcess.Start(file, arguments);
        FirstLine = _process.StandardOutput.ReadLine() ?? throw new InvalidOperationException(
            "The peer did not start: run tests/tools/install-peers. It said: " + _process.StandardError.ReadToEnd());
    }

    public string FirstLine { get; }

    public void Kill()
    {
        _process.Kill();
        _process.WaitForExit();
    }

    public void Dispose()
    {
        if (!_process.HasExited)
        {
            _process.Kill();
        }

        _process.Dispose();
    }
}
