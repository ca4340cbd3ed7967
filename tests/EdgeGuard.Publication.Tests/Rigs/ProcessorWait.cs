using System.Globalization;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>
/// How long threads that could have run were kept waiting for a processor, by the system's own account: the second figure
/// of schedstat, ns (Documentation/scheduler/sched-stats of the kernel). What a test measures by the wall clock on a loaded
/// machine is judged after that wait has been taken off: on a quiet one it is a few milliseconds and takes nothing off.
/// </summary>
internal static class ProcessorWait
{
    /// <summary>Of the thread a process began with, since its start, ms.</summary>
    public static long OfMainThreadMs(int process) => Read(Folder(process, process));

    /// <summary>Of a thread by its name (the system keeps 15 characters of it), since its start, ms.</summary>
    public static long OfThreadMs(int process, string name)
    {
        string kept = name[..Math.Min(name.Length, 15)];
        return Read(Directory.GetDirectories(string.Create(CultureInfo.InvariantCulture, $"/proc/{process}/task")).Single(t => NameOf(t) == kept));
    }

    private static string NameOf(string task)
    {
        try
        {
            return File.ReadAllText(Path.Combine(task, "comm")).TrimEnd('\n');
        }
        catch (IOException)
        {
            return string.Empty; // it has ended meanwhile
        }
    }

    private static string Folder(int process, int thread) => string.Create(CultureInfo.InvariantCulture, $"/proc/{process}/task/{thread}");

    private static long Read(string folder)
    {
        string schedstat = Path.Combine(folder, "schedstat");
        return File.Exists(schedstat) ? long.Parse(File.ReadAllText(schedstat).Split(' ')[1], CultureInfo.InvariantCulture) / 1_000_000 : 0;
    }
}
