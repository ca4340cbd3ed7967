using System.Runtime.InteropServices;
using System.Text;

namespace EdgeGuard.Service.Requests;

/// <summary>The socket as a file: length of its path and who may open it.</summary>
internal static partial class RequestSocketFile
{
    private const uint Unchanged = uint.MaxValue; // (uid_t)-1, chown(2)

    /// <summary>Name of the socket in the data folder.</summary>
    public const string Name = "request.sock";

    public static void CheckLength(string path)
    {
        int bytes = Encoding.UTF8.GetByteCount(path);
        if (bytes > RequestLimits.SocketPathBytesMax)
        {
            throw new ArgumentException($"{path}: path of the request socket; found {bytes} bytes; expected at most {RequestLimits.SocketPathBytesMax}; try a data folder with a shorter path", nameof(path));
        }
    }

    /// <summary>Mode 0600, or 0660 and the group where one is configured. Peers are checked on top, so a race here opens nothing.</summary>
    public static void Protect(string path, string? group)
    {
        if (OperatingSystem.IsWindows())
        {
            return;
        }

        UnixFileMode mode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        if (group is not null)
        {
            uint gid = LocalAccounts.GroupId(group) ?? throw new ArgumentException($"request group: found \"{group}\"; expected a group of this machine; try getent group", nameof(group));
            if (ChangeOwner(path, Unchanged, gid) != 0)
            {
                throw new UnauthorizedAccessException($"{path}: cannot be given to group {group}; run the guard as a member of it");
            }

            mode |= UnixFileMode.GroupRead | UnixFileMode.GroupWrite;
        }

        File.SetUnixFileMode(path, mode);
    }

    [LibraryImport("libc", EntryPoint = "chown", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int ChangeOwner(string path, uint uid, uint gid);
}
