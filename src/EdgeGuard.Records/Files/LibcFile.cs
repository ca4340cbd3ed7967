using System.Runtime.InteropServices;

namespace EdgeGuard.Records.Files;

/// <summary>
/// The calls of libc for what .NET does not offer: to open a folder, and to write a file without an object for it. Linux
/// only; a negative result is a failure, told by <see cref="Marshal.GetLastPInvokeError"/>.
/// </summary>
internal static partial class LibcFile
{
    // The variadic third argument of open(2) is passed as a fixed one: on Linux x64 and arm64 both are passed alike.
    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    public static partial int Open(string path, int flags, int mode);

    [LibraryImport("libc", EntryPoint = "write", SetLastError = true)]
    public static partial nint Write(int descriptor, ref byte bytes, nuint count);

    [LibraryImport("libc", EntryPoint = "fsync", SetLastError = true)]
    public static partial int Fsync(int descriptor);

    [LibraryImport("libc", EntryPoint = "rename", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    public static partial int Rename(string from, string to);

    // Nothing is done about its failure, and the error of the call before it stays to be told.
    [LibraryImport("libc", EntryPoint = "close")]
    public static partial int Close(int descriptor);
}
