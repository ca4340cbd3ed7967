namespace EdgeGuard.OpcUa.Server;

/// <summary>Counts since start; for the diagnostics and for tests. Safe for several threads.</summary>
public sealed class ServerCounters
{
    private long _connections;
    private long _sessions;
    private long _rejectedSessions;
    private long _timedOutSessions;
    private long _requests;
    private long _rejectedRequests;
    private long _securityRejectedSessions;
    private long _abortedSessions;
    private long _securityRejectedRequests;

    /// <summary>Connections accepted.</summary>
    public long Connections => Interlocked.Read(ref _connections);

    /// <summary>Sessions made.</summary>
    public long Sessions => Interlocked.Read(ref _sessions);

    /// <summary>Requests for a session or its activation refused, those for reasons of security included.</summary>
    public long RejectedSessions => Interlocked.Read(ref _rejectedSessions);

    /// <summary>Of them those refused for reasons of security.</summary>
    public long SecurityRejectedSessions => Interlocked.Read(ref _securityRejectedSessions);

    /// <summary>Sessions the server ended because of a fault: never activated in time for another one.</summary>
    public long AbortedSessions => Interlocked.Read(ref _abortedSessions);

    /// <summary>Sessions that timed out.</summary>
    public long TimedOutSessions => Interlocked.Read(ref _timedOutSessions);

    /// <summary>Requests answered.</summary>
    public long Requests => Interlocked.Read(ref _requests);

    /// <summary>Of those answered with a fault the ones refused for reasons of security.</summary>
    public long SecurityRejectedRequests => Interlocked.Read(ref _securityRejectedRequests);

    /// <summary>Requests answered with a fault.</summary>
    public long RejectedRequests => Interlocked.Read(ref _rejectedRequests);

    internal void ConnectionAccepted() => Interlocked.Increment(ref _connections);

    internal void SessionMade() => Interlocked.Increment(ref _sessions);

    internal void SessionRejected(StatusCode status)
    {
        Interlocked.Increment(ref _rejectedSessions);
        if (IsSecurity(status))
        {
            Interlocked.Increment(ref _securityRejectedSessions);
        }
    }

    internal void SessionAborted() => Interlocked.Increment(ref _abortedSessions);

    internal void SessionTimedOut() => Interlocked.Increment(ref _timedOutSessions);

    internal void Request(StatusCode result)
    {
        Interlocked.Increment(ref _requests);
        if (!result.IsBad())
        {
            return;
        }

        Interlocked.Increment(ref _rejectedRequests);
        if (IsSecurity(result))
        {
            Interlocked.Increment(ref _securityRejectedRequests);
        }
    }

    // Codes that say that who asks, or how it is secured, is not good enough. Most of those about certificates stand in a row
    // (StatusCode.csv: 0x8012 to 0x801E).
    private static bool IsSecurity(StatusCode status) => status is StatusCode.BadSecurityChecksFailed or StatusCode.BadSecurityModeInsufficient
        or StatusCode.BadSecurityModeRejected or StatusCode.BadSecurityPolicyRejected or StatusCode.BadUserAccessDenied or StatusCode.BadIdentityTokenInvalid
        or StatusCode.BadIdentityTokenRejected or StatusCode.BadIdentityChangeNotSupported or StatusCode.BadUserSignatureInvalid
        or StatusCode.BadApplicationSignatureInvalid or StatusCode.BadNonceInvalid or StatusCode.BadSecureChannelIdInvalid
        or (>= StatusCode.BadCertificateInvalid and <= StatusCode.BadCertificateIssuerRevoked);
}
