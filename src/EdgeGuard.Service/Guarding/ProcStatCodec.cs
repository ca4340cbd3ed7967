namespace EdgeGuard.Service.Guarding;

/// <summary>
/// The state of a process from /proc/PID/stat (proc_pid_stat(5)): "pid (comm) state ppid …". The name in brackets is the
/// process's own choice and may hold spaces, brackets and line ends, so that the fields after it are counted from the last
/// closing bracket; after it come only letters and figures.
/// </summary>
internal static class ProcStatCodec
{
    /// <summary>Stopped by a signal (SIGSTOP, SIGTSTP, SIGTTIN, SIGTTOU). A process held by a debugger is another: t.</summary>
    public const byte StoppedBySignal = (byte)'T';

    /// <summary>No state can be told.</summary>
    public const byte Unknown = 0;

    /// <summary>The letter of the state; <see cref="Unknown"/> where the text does not have one.</summary>
    public static byte StateOf(ReadOnlySpan<byte> stat)
    {
        int end = stat.LastIndexOf((byte)')');
        ReadOnlySpan<byte> rest = end < 0 ? [] : stat[(end + 1)..];
        return rest is [(byte)' ', var state, (byte)' ', ..] ? state : Unknown;
    }
}
