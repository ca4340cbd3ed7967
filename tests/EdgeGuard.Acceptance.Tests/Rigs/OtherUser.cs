using System.Runtime.InteropServices;

namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>
/// Another user of the machine at a Unix socket. A thread of its own takes that identity with the system call itself: in
/// Linux a user id belongs to the thread, and only the C library's functions carry it to the others (setuid(2), nptl(7)). What
/// the peer learns from SO_PEERCRED is the identity in effect at the connect (unix(7)). Only root can do this.
/// </summary>
internal static partial class OtherUser
{
    /// <summary>Nobody, on every Linux (user_namespaces(7): the overflow user id).</summary>
    public const uint Uid = 65_534;

    private const uint Unchanged = uint.MaxValue; // (uid_t)-1, setresuid(2)

    /// <summary>Does something as nobody; throws what it throws, wrapped.</summary>
    public static T Do<T>(Func<T> act)
    {
        T? result = default;
        Exception? fault = null;
        var thread = new Thread(() =>
        {
            try
            {
                Become(Uid);
                result = act();
            }
            catch (Exception e)
            {
                fault = e;
            }
        });
        thread.Start();
        thread.Join();
        return fault is null ? result! : throw new AggregateException(fault);
    }

    private static void Become(uint uid)
    {
        // <asm/unistd.h> of the two architectures the project is built for.
        nint setResUid = RuntimeInformation.ProcessArchitecture switch
        {
            Architecture.X64 => 117,
            Architecture.Arm64 => 147,
            _ => throw new NotSupportedException($"the number of setresuid on {RuntimeInformation.ProcessArchitecture} is not known here"),
        };
        Assert.Equal(0, SystemCall(setResUid, Unchanged, uid, Unchanged));
    }

    [LibraryImport("libc", EntryPoint = "syscall", SetLastError = true)]
    private static partial nint SystemCall(nint number, nuint real, nuint effective, nuint saved);
}
