using System.Diagnostics;
using System.Globalization;
using Serilog;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// One run of the publisher as a child process. It holds the other end of the child's standard input: however the guard
/// ends, the system closes it, and the child ends. Its heap is limited by the environment of its runtime.
/// </summary>
internal sealed class PublisherProcess : IDisposable
{
    private const long BytesPerMb = 1 << 20;

    // A process may pass through the state (Ctrl+Z and fg, a tool that looks at it): one look is not enough.
    private const int StoppedLooksMax = 2;

    private readonly Process _process;
    private readonly ResidentMemory _memory;
    private readonly ProcFile _stat;
    private readonly LineRelay _output;
    private int _stoppedLooks;

    private PublisherProcess(Process process, ILogger log, Action ended)
    {
        _process = process;
        StartedMs = Environment.TickCount64;
        _memory = new ResidentMemory(process.Id);
        _stat = new ProcFile(process.Id, "stat");
        _output = new LineRelay(process.StandardOutput.BaseStream, log, ended);
        var errors = new LineRelay(process.StandardError.BaseStream, log, ended);
        new Thread(_output.Run) { IsBackground = true, Name = "publisher out" }.Start();
        new Thread(errors.Run) { IsBackground = true, Name = "publisher err" }.Start();
    }

    /// <summary><see cref="Environment.TickCount64"/> of the start.</summary>
    public long StartedMs { get; }

    public int Id => _process.Id;

    public bool HasExited => _process.HasExited;

    /// <summary>Exit code; 128 + signal where a signal ended it.</summary>
    public int ExitCode => _process.ExitCode;

    /// <summary>Starts the process. The calling thread must live as long as the process does.</summary>
    /// <param name="launch">What to start.</param>
    /// <param name="log">Takes its lines.</param>
    /// <param name="ended">Called when a stream of the process has ended; must not wait.</param>
    public static PublisherProcess Start(PublisherLaunch launch, ILogger log, Action ended)
    {
        var info = new ProcessStartInfo(launch.Command[0]) { RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        for (int i = 1; i < launch.Command.Count; i++)
        {
            info.ArgumentList.Add(launch.Command[i]);
        }

        // A hexadecimal number of bytes. A quarter of the memory is left to code, stacks and buffers of the system.
        long heapBytes = launch.MemoryLimitMb * BytesPerMb * 3 / 4;
        info.Environment["DOTNET_GCHeapHardLimit"] = heapBytes.ToString("x", CultureInfo.InvariantCulture);

        // The service manager's watchdog is the guard's alone.
        info.Environment.Remove("NOTIFY_SOCKET");
        info.Environment.Remove("WATCHDOG_USEC");
        info.Environment.Remove("WATCHDOG_PID");
        return new PublisherProcess(Process.Start(info) ?? throw new InvalidOperationException("the process was not started"), log, ended);
    }

    /// <summary>Why it must be ended; null while all is well.</summary>
    public string? Complaint(PublisherLaunch launch)
    {
        long heardMs = _output.HeardMs;
        long silentMs = Environment.TickCount64 - (heardMs == 0 ? StartedMs : heardMs);
        if (silentMs > (heardMs == 0 ? launch.FirstSignMs : launch.SilentMs))
        {
            return string.Create(CultureInfo.InvariantCulture, $"no sign of life for {silentMs} ms");
        }

        return null;
    }

    /// <summary>Looks whether a signal has stopped it, now and at the look before; false where the system does not tell (Linux does).</summary>
    public bool StaysStopped()
    {
        bool stopped = ProcStatCodec.StateOf(_stat.Read()) == ProcStatCodec.StoppedBySignal;
        _stoppedLooks = stopped ? Math.Min(_stoppedLooks + 1, StoppedLooksMax) : 0;
        return _stoppedLooks == StoppedLooksMax;
    }

    /// <summary>Bytes held in main memory; 0 when unknown.</summary>
    public long ResidentBytes() => _memory.ReadBytes();

    /// <summary>Asks for an orderly end.</summary>
    public void CloseInput()
    {
        try
        {
            _process.StandardInput.Close();
        }
        catch (IOException)
        {
            // It has ended already.
        }
    }

    /// <summary>Ends it without notice.</summary>
    public void Kill()
    {
        if (!_process.HasExited)
        {
            _process.Kill();
        }
    }

    public bool WaitForEnd(int limitMs) => _process.WaitForExit(limitMs);

    public void Dispose()
    {
        _stat.Dispose();
        _memory.Dispose();
        _process.Dispose();
    }
}
