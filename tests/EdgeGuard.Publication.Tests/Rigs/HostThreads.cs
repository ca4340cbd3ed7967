using System.Diagnostics;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>The threads of publishers in this process by name, from the system's own list (proc_pid_task(5); Linux only).</summary>
internal static class HostThreads
{
    // The system keeps 15 characters of a name, so this stands for receiving and sending threads.
    private const string Connection = "connection";

    public static int Connections() =>
        Directory.GetDirectories($"/proc/{Environment.ProcessId}/task").Count(static t => NameOf(t).StartsWith(Connection, StringComparison.Ordinal));

    /// <summary>Whether their number falls to a limit within a time.</summary>
    public static bool Fall(int limit, TimeSpan within)
    {
        long start = Stopwatch.GetTimestamp();
        while (Connections() > limit)
        {
            if (Stopwatch.GetElapsedTime(start) > within)
            {
                return false;
            }

            Thread.Sleep(50);
        }

        return true;
    }

    private static string NameOf(string task)
    {
        try
        {
            return File.ReadAllText(Path.Combine(task, "comm"));
        }
        catch (IOException)
        {
            return string.Empty; // it has ended meanwhile
        }
    }
}
