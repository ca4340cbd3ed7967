using System.Diagnostics;
using System.Globalization;

namespace EdgeGuard.Benchmarks;

/// <summary>A server as a process of its own on the first core; it ends when its input is closed.</summary>
internal sealed class ServerProcess : IDisposable
{
    private const int EndMs = 5000;
    private readonly Process _process;

    private ServerProcess(string file, params string[] arguments)
    {
        var start = new ProcessStartInfo("taskset") { UseShellExecute = false, RedirectStandardInput = true, RedirectStandardOutput = true };
        foreach (string argument in (string[])["-c", "0", file, .. arguments])
        {
            start.ArgumentList.Add(argument);
        }

        _process = Process.Start(start) ?? throw new InvalidOperationException($"{file} could not be started");
        string ready = Expect("ready ");
        Port = int.Parse(ready, CultureInfo.InvariantCulture);
    }

    public int Port { get; }

    /// <summary>Processor time so far, all threads.</summary>
    public TimeSpan Cpu
    {
        get
        {
            _process.Refresh();
            return _process.TotalProcessorTime;
        }
    }

    /// <summary>Resident memory now, bytes.</summary>
    public long MemoryBytes
    {
        get
        {
            _process.Refresh();
            return _process.WorkingSet64;
        }
    }

    /// <summary>Our own server with so many variables.</summary>
    public static ServerProcess Own(int items) => new(Environment.ProcessPath!, "host", items.ToString(CultureInfo.InvariantCulture));

    /// <summary>The npm server in the folder.</summary>
    public static ServerProcess Node(string folder) => new("node", Path.Combine(folder, "server.js"), FreePort().ToString(CultureInfo.InvariantCulture));

    /// <summary>Bytes our server allocated so far.</summary>
    public long AllocatedBytes()
    {
        _process.StandardInput.WriteLine();
        _process.StandardInput.Flush();
        return long.Parse(Expect("allocated "), CultureInfo.InvariantCulture);
    }

    /// <summary>Bytes of managed memory in use by our server after a collection.</summary>
    public long LiveBytes()
    {
        _process.StandardInput.WriteLine("live");
        _process.StandardInput.Flush();
        return long.Parse(Expect("live "), CultureInfo.InvariantCulture);
    }

    public void Dispose()
    {
        _process.StandardInput.Close();
        if (!_process.WaitForExit(EndMs))
        {
            _process.Kill();
        }

        _process.Dispose();
    }

    private static int FreePort()
    {
        using var probe = new System.Net.Sockets.TcpListener(System.Net.IPAddress.Loopback, 0);
        probe.Start();
        return ((System.Net.IPEndPoint)probe.LocalEndpoint).Port;
    }

    // The rest of the first line that begins so.
    private string Expect(string prefix)
    {
        while (_process.StandardOutput.ReadLine() is { } line)
        {
            if (line.StartsWith(prefix, StringComparison.Ordinal))
            {
                return line[prefix.Length..];
            }
        }

        throw new InvalidOperationException($"the server ended before it said \"{prefix}\"");
    }
}
