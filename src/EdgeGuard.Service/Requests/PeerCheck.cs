using System.Buffers.Binary;
using System.Net.Sockets;
using System.Runtime.InteropServices;

namespace EdgeGuard.Service.Requests;

/// <summary>
/// Who may ask: the user the guard runs as, root, and members of the configured group. The kernel's word counts
/// (SO_PEERCRED, socket(7) and unix(7)), not what the request says. Where a system offers no such word, nobody may.
/// </summary>
public sealed partial class PeerCheck
{
    private const int SolSocket = 1; // <asm-generic/socket.h>
    private const int SoPeerCred = 17;
    private const int UcredBytes = 12; // struct ucred: pid, uid, gid of 32 bits each

    private readonly string? _group;
    private readonly uint _ownUid;

    /// <summary>Prepares the check.</summary>
    /// <param name="group">Group whose members may ask; null for none.</param>
    public PeerCheck(string? group)
    {
        _group = group;
        _ownUid = OperatingSystem.IsLinux() ? GetEffectiveUserId() : uint.MaxValue;
    }

    /// <summary>The identity of the peer; null when the system does not tell.</summary>
    public static PeerIdentity? Identify(Socket client)
    {
        ArgumentNullException.ThrowIfNull(client);
        if (!OperatingSystem.IsLinux())
        {
            return null;
        }

        Span<byte> credentials = stackalloc byte[UcredBytes];
        if (client.GetRawSocketOption(SolSocket, SoPeerCred, credentials) != UcredBytes)
        {
            return null;
        }

        uint uid = Read(credentials[4..]);
        return new PeerIdentity(uid, Read(credentials[8..]), LocalAccounts.UserName(uid));
    }

    /// <summary>True when the identity may ask.</summary>
    public bool MayAsk(PeerIdentity? peer) =>
        peer is not null && (peer.Uid == _ownUid || peer.Uid == 0 || (_group is not null && LocalAccounts.IsMember(_group, peer.User, peer.Gid)));

    private static uint Read(ReadOnlySpan<byte> bytes) =>
        BitConverter.IsLittleEndian ? BinaryPrimitives.ReadUInt32LittleEndian(bytes) : BinaryPrimitives.ReadUInt32BigEndian(bytes);

    [LibraryImport("libc", EntryPoint = "geteuid")]
    private static partial uint GetEffectiveUserId();
}
