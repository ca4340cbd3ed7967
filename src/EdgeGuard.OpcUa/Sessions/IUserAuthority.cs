namespace EdgeGuard.OpcUa.Sessions;

/// <summary>Decides who a user is and what he may. May be called from several threads.</summary>
public interface IUserAuthority
{
    /// <summary>Whether user names with passwords are taken.</summary>
    bool TakesPasswords { get; }

    /// <summary>Whether user certificates are taken.</summary>
    bool TakesCertificates { get; }

    /// <summary>The user with this password, or null.</summary>
    UserIdentity? Find(string userName, ReadOnlySpan<byte> password);

    /// <summary>The user with this certificate (DER), whose private key was proved, or null.</summary>
    UserIdentity? Find(ReadOnlySpan<byte> certificate);
}
