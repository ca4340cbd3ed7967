namespace EdgeGuard.Service.Requests;

/// <summary>Who is at the other end of a local connection, as the kernel says.</summary>
/// <param name="Uid">User id of the process that connected.</param>
/// <param name="Gid">Group id of the process that connected.</param>
/// <param name="User">Name of the user, or "uid N" when the system has none.</param>
public sealed record PeerIdentity(uint Uid, uint Gid, string User)
{
    /// <summary>The identity as it stands in the journal.</summary>
    public override string ToString() => $"{User}, uid {Uid}";
}
