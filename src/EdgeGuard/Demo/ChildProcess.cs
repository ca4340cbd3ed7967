using System.Collections.Concurrent;
using System.Diagnostics;

namespace EdgeGuard.Demo;

/// <summary>
/// Another instance of this program, spoken to line by line: one command, one answer. The demo and the acceptance
/// tests run the real processes this way instead of calling their code.
/// </summary>
internal sealed class ChildProcess : IDisposable
{
    private readonly Process _process;
    private readonly StreamWriter _errorLog;
    private readonly BlockingCollection<string?> _lines = new(boundedCapacity: 10_000);

    private ChildProcess(Process process, string errorLogPath)
    {
        _process = process;
        _errorLog = new StreamWriter(errorLogPath, append: true) { AutoFlush = true };
        process.ErrorDataReceived += (_, e) => Log(e.Data);
        process.BeginErrorReadLine();
        new Thread(ReadLines) { IsBackground = true, Name = "child output" }.Start();
    }

    public int Id => _process.Id;

    public bool HasExited => _process.HasExited;

    public int ExitCode => _process.ExitCode;

    /// <summary>Starts this very program with other arguments; its error output goes to a file.</summary>
    public static ChildProcess Start(string errorLogPath, params string[] arguments) => Start(OwnProgram(), errorLogPath, arguments);

    /// <summary>Starts a given build of this program.</summary>
    public static ChildProcess Start(IReadOnlyList<string> program, string errorLogPath, params string[] arguments)
    {
        var info = new ProcessStartInfo(program[0]) { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        foreach (string argument in program.Skip(1).Concat(arguments))
        {
            info.ArgumentList.Add(argument);
        }

        info.Environment["NO_COLOR"] = "1";
        Process process = Process.Start(info) ?? throw new InvalidOperationException($"could not start {program[0]}");
        process.StandardInput.AutoFlush = true;
        return new ChildProcess(process, errorLogPath);
    }

    /// <summary>Sends one line without waiting for an answer.</summary>
    public void Tell(string line) => _process.StandardInput.WriteLine(line);

    /// <summary>Sends one line and returns the line that answers it.</summary>
    /// <exception cref="ChildProcessException">The process ended or did not answer in time.</exception>
    public string Ask(string line, int timeoutMs = 20_000)
    {
        try
        {
            Tell(line);
        }
        catch (IOException)
        {
            throw new ChildProcessException($"process {Id} ended before \"{line}\" could be sent");
        }

        return NextLine(timeoutMs);
    }

    /// <summary>The next line of output.</summary>
    public string NextLine(int timeoutMs = 20_000)
    {
        if (!_lines.TryTake(out string? line, timeoutMs))
        {
            throw new ChildProcessException($"process {Id} did not answer within {timeoutMs} ms");
        }

        return line ?? throw new ChildProcessException($"process {Id} ended");
    }

    /// <summary>Reads lines until one starts with a given text, and returns it.</summary>
    public string WaitForLine(string start, int timeoutMs = 20_000)
    {
        long end = Environment.TickCount64 + timeoutMs;
        for (; ; )
        {
            string line = NextLine((int)Math.Max(1, end - Environment.TickCount64));
            if (line.StartsWith(start, StringComparison.Ordinal))
            {
                return line;
            }
        }
    }

    /// <summary>Ends the process at once, without notice to it (SIGKILL).</summary>
    public void Kill() => _process.Kill();

    /// <summary>Waits for the end; false when it did not come.</summary>
    public bool WaitForExit(int timeoutMs)
    {
        if (!_process.WaitForExit(timeoutMs))
        {
            return false;
        }

        _process.WaitForExit(); // without a limit it also waits for the rest of the error output
        return true;
    }

    public void Dispose()
    {
        if (!_process.HasExited)
        {
            _process.Kill(entireProcessTree: true);
            _process.WaitForExit(5_000);
        }

        _process.Dispose();
        lock (_errorLog)
        {
            _errorLog.Dispose();
        }
    }

    /// <summary>The command that starts this very program.</summary>
    internal static string[] OwnProgram()
    {
        string path = Environment.ProcessPath ?? throw new InvalidOperationException("the path of this program is unknown");
        bool isHost = Path.GetFileNameWithoutExtension(path).Equals("dotnet", StringComparison.OrdinalIgnoreCase);
        return isHost ? [path, Path.Combine(AppContext.BaseDirectory, "edgeguard.dll")] : [path];
    }

    private void ReadLines()
    {
        while (_process.StandardOutput.ReadLine() is { } line)
        {
            _lines.Add(line);
        }

        _lines.Add(null);
    }

    private void Log(string? line)
    {
        lock (_errorLog)
        {
            if (line is not null && _errorLog.BaseStream is { CanWrite: true })
            {
                _errorLog.WriteLine(line);
            }
        }
    }
}
