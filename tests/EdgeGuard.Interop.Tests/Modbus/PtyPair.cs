using System.Diagnostics;
using System.Globalization;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>Two serial ports joined back to back (socat): what one end writes the other reads.</summary>
internal sealed class PtyPair : IDisposable
{
    private const int PatienceMs = 60_000;
    private readonly Process _socat;
    private readonly string _folder = Directory.CreateTempSubdirectory("edgeguard-pty").FullName;

    public PtyPair()
    {
        _socat = PeerProcess.Start("socat", $"pty,raw,echo=0,link={Ours}", $"pty,raw,echo=0,link={Theirs}");
        long end = Environment.TickCount64 + PatienceMs;
        while (!File.Exists(Ours) || !File.Exists(Theirs))
        {
            if (_socat.HasExited || Environment.TickCount64 > end)
            {
                throw new InvalidOperationException("socat made no pair of serial ports: " + (_socat.HasExited ? _socat.StandardError.ReadToEnd() : "too slow"));
            }

            Thread.Sleep(10);
        }
    }

    public string Ours => Path.Combine(_folder, "ours");

    public string Theirs => Path.Combine(_folder, "theirs");

    /// <summary>Unplugs both ends.</summary>
    public void Unplug()
    {
        Process.Start("/bin/kill", [_socat.Id.ToString(CultureInfo.InvariantCulture)]).WaitForExit();
        _socat.WaitForExit();
    }

    public void Dispose()
    {
        if (!_socat.HasExited)
        {
            _socat.Kill();
        }

        _socat.Dispose();
        Directory.Delete(_folder, recursive: true);
    }
}
