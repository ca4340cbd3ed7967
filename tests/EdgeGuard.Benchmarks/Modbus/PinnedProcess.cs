using System.Diagnostics;

namespace EdgeGuard.Benchmarks.Modbus;

/// <summary>
/// A program on one core, the same for all: a round trip is then two switches between two processes, whoever wrote them,
/// and no figure hangs on where the scheduler happened to put them.
/// </summary>
internal sealed class PinnedProcess : IDisposable
{
    private readonly Process _process;

    public PinnedProcess(string file, params string[] arguments)
    {
        var start = new ProcessStartInfo("taskset") { UseShellExecute = false, RedirectStandardInput = true, RedirectStandardOutput = true };
        foreach (string argument in (string[])["-c", "0", file, .. arguments])
        {
            start.ArgumentList.Add(argument);
        }

        _process = Process.Start(start) ?? throw new InvalidOperationException($"{file} could not be started");
    }

    /// <summary>Its process id (taskset replaces itself by the program).</summary>
    public int Id => _process.Id;

    /// <summary>The next line it prints.</summary>
    public string Line() => _process.StandardOutput.ReadLine() ?? throw new InvalidOperationException("the program ended without a word");

    /// <summary>Closes its input, which ends a server, and gives what it still prints.</summary>
    public string End()
    {
        _process.StandardInput.Close();
        string rest = _process.StandardOutput.ReadToEnd();
        _process.WaitForExit();
        return rest;
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
