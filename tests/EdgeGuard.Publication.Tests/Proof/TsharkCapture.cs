using System.Diagnostics;
using System.Globalization;
using EdgeGuard.Acceptance.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>
/// The traffic of one TCP port of loopback, recorded by dumpcap and decoded by tshark: an OPC UA decoder nobody here
/// wrote. A program that is missing, or a right to capture, is a failure and never a skip.
/// </summary>
internal sealed class TsharkCapture : IDisposable
{
    private const int PatienceMs = 20_000;

    private readonly Process _capture;
    private readonly string _file;
    private readonly string _port;

    public TsharkCapture(string folder, int port)
    {
        _file = Path.Combine(folder, "traffic.pcapng");
        _port = port.ToString(CultureInfo.InvariantCulture);
        _capture = Start("dumpcap", "-q", "-i", "lo", "-f", "tcp port " + _port, "-w", _file);

        // dumpcap writes the head of the file once it listens.
        long end = Environment.TickCount64 + PatienceMs;
        while (!(File.Exists(_file) && new FileInfo(_file).Length > 0))
        {
            Assert.False(_capture.HasExited, $"dumpcap cannot capture on loopback (it needs root or CAP_NET_RAW): {(_capture.HasExited ? _capture.StandardError.ReadToEnd() : "")}");
            Assert.True(Environment.TickCount64 < end, "dumpcap did not begin to capture");
            Thread.Sleep(20);
        }
    }

    /// <summary>Stops once everything sent until now is in the file.</summary>
    public void Stop()
    {
        // dumpcap writes what the kernel hands over at intervals; the file is complete when it stops growing.
        long before = -1;
        for (int quiet = 0; quiet < 3; Thread.Sleep(300))
        {
            long now = new FileInfo(_file).Length;
            quiet = now == before ? quiet + 1 : 0;
            before = now;
        }

        Process.Start("/bin/kill", ["-INT", _capture.Id.ToString(CultureInfo.InvariantCulture)]).WaitForExit();
        Assert.True(_capture.WaitForExit(PatienceMs), "dumpcap did not stop");
    }

    /// <summary>The values of fields in every frame that passes a display filter; one line a frame.</summary>
    public string[] Fields(string filter, params string[] fields)
    {
        string[] columns = [.. fields.SelectMany(static f => (string[])["-e", f])];
        CommandLine run = CommandLine.RunProgram("tshark", ["-r", _file, "-d", $"tcp.port=={_port},opcua", "-Y", filter, "-T", "fields", .. columns]);
        Assert.True(run.ExitCode == 0, $"tshark: {run.Errors}");
        return run.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }

    public void Dispose()
    {
        if (!_capture.HasExited)
        {
            _capture.Kill();
        }

        _capture.Dispose();
    }

    private static Process Start(string program, params string[] arguments)
    {
        try
        {
            return Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardError = true, RedirectStandardOutput = true, UseShellExecute = false })!;
        }
        catch (System.ComponentModel.Win32Exception e)
        {
            throw new InvalidOperationException($"{program} is missing ({e.Message}): run tests/tools/install-tshark", e);
        }
    }
}
