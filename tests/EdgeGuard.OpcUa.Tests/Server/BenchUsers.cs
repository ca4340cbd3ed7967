using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Sessions;
using EdgeGuard.OpcUa.Tests.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>Two operators and an engineer with the same password, and one certificate.</summary>
internal sealed class BenchUsers : IUserAuthority
{
    public const string Password = "pellets-650";

    public int Asked { get; private set; }

    public bool TakesPasswords => true;

    public bool TakesCertificates => true;

    public UserIdentity? Find(string userName, ReadOnlySpan<byte> password)
    {
        Asked++;
        CallerRoles more = userName is "engineer" ? CallerRoles.Engineer | CallerRoles.SecurityAdmin : CallerRoles.None;
        return userName is "operator" or "other" or "engineer" && password.SequenceEqual("pellets-650"u8) ? new UserIdentity(UserTokenType.UserName, userName, CallerRoles.Anonymous | CallerRoles.Operator | more) : null;
    }

    public UserIdentity? Find(ReadOnlySpan<byte> certificate) =>
        certificate.SequenceEqual(TestParties.Client.Der) ? new UserIdentity(UserTokenType.Certificate, "by certificate", CallerRoles.Operator) : null;
}
