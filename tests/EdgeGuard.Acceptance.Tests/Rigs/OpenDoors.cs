using System.Globalization;

namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>What a process listens on, as the kernel lists it (proc(5): /proc/PID/fd, /proc/net/tcp, udp, unix).</summary>
internal static class OpenDoors
{
    private const string TcpListens = "0A"; // TCP_LISTEN, <net/tcp_states.h>
    private const int AcceptsConnections = 0x10000; // __SO_ACCEPTCON, the flags of /proc/net/unix

    /// <summary>One line a door: "tcp …", "udp …" or "unix PATH".</summary>
    public static IReadOnlyList<string> Of(int processId)
    {
        HashSet<string> own = Sockets(processId);
        string folder = $"/proc/{processId}/net";
        return
        [
            .. Rows(folder, "tcp", "tcp6").Where(r => r[3] == TcpListens && own.Contains(r[9])).Select(static r => "tcp " + r[1]),
            .. Rows(folder, "udp", "udp6", "raw", "raw6").Where(r => own.Contains(r[9])).Select(static r => "udp " + r[1]),
            .. Rows(folder, "unix").Where(r => own.Contains(r[6]) && (int.Parse(r[3], NumberStyles.HexNumber, CultureInfo.InvariantCulture) & AcceptsConnections) != 0)
                .Select(static r => "unix " + (r.Length > 7 ? r[7] : "without a path")),
        ];
    }

    private static HashSet<string> Sockets(int processId)
    {
        var inodes = new HashSet<string>(StringComparer.Ordinal);
        foreach (string link in Directory.EnumerateFileSystemEntries($"/proc/{processId}/fd"))
        {
            string target = new FileInfo(link).LinkTarget ?? string.Empty;
            if (target.StartsWith("socket:[", StringComparison.Ordinal))
            {
                inodes.Add(target[8..^1]);
            }
        }

        Assert.NotEmpty(inodes);
        return inodes;
    }

    private static IEnumerable<string[]> Rows(string folder, params string[] files) =>
        files.Select(f => Path.Combine(folder, f)).Where(File.Exists).SelectMany(static f => File.ReadLines(f).Skip(1))
            .Select(static l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries));
}
