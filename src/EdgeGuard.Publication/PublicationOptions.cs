using System.Net;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Sessions;

namespace EdgeGuard.Publication;

/// <summary>What is published, where, and to whom.</summary>
public sealed record PublicationOptions
{
    /// <summary>The site.</summary>
    public required SiteTable Site { get; init; }

    /// <summary>Names of its links to devices, in the order of the site file.</summary>
    public IReadOnlyList<string> LinkNames { get; init; } = [];

    /// <summary>Proof tests by name of the unit, as the site file states them.</summary>
    public IReadOnlyDictionary<string, ProofTestFacts> ProofTests { get; init; } = new Dictionary<string, ProofTestFacts>(StringComparer.Ordinal);

    /// <summary>SHA-256 of its settings, 32 bytes; compared with the guard's.</summary>
    public required byte[] SiteDigest { get; init; }

    /// <summary>The guard's ring.</summary>
    public required string RingPath { get; init; }

    /// <summary>The head record of the guard's journal.</summary>
    public required string JournalHeadPath { get; init; }

    /// <summary>Address and port to listen on; port 0 takes a free one.</summary>
    public required IPEndPoint EndPoint { get; init; }

    /// <summary>Version of the program.</summary>
    public required string Version { get; init; }

    /// <summary>Takes sentences for the log.</summary>
    public required IServerLog Log { get; init; }

    /// <summary>End of the certificate of the server, watched while it runs; null where there is none.</summary>
    public DateTime? CertificateNotAfterUtc { get; init; }

    /// <summary>Certificate of the server; null offers the policy None only.</summary>
    public ApplicationInstance? Instance { get; init; }

    /// <summary>URI of this instance; in the certificate as well.</summary>
    public string ApplicationUri { get; init; } = $"urn:{Environment.MachineName}:edgeguard";

    /// <summary>Judge of clients' certificates.</summary>
    public ICertificateJudge? Judge { get; init; }

    /// <summary>URL (opc.tcp) of the discovery server to register with; null for none. Needs <see cref="Instance"/> and <see cref="DiscoveryJudge"/>.</summary>
    public Uri? DiscoveryServer { get; init; }

    /// <summary>Time between two registrations, ms; 10 minutes at most (OPC 10000-4, 5.4.5).</summary>
    public int RegisterEveryMs { get; init; } = 300_000;

    /// <summary>Judge of the discovery server's certificate.</summary>
    public ICertificateJudge? DiscoveryJudge { get; init; }

    /// <summary>Whether sessions without security are allowed.</summary>
    public bool AllowNone { get; init; }

    /// <summary>Whether reading without a user is allowed.</summary>
    public bool AllowAnonymous { get; init; } = true;

    /// <summary>Users; null for none.</summary>
    public IUserAuthority? Users { get; init; }

    /// <summary>Way to the guard for methods; null publishes none.</summary>
    public IGuardRequests? Requests { get; init; }

    /// <summary>Without a scan for so long, and for five scans at least, values become last usable ones, ms.</summary>
    public int GuardLateMs { get; init; } = 1_000;

    /// <summary>Without a scan for so long there are no values any more, ms.</summary>
    public int GuardLostMs { get; init; } = 10_000;

    /// <summary>Maxima.</summary>
    public ServerLimits Limits { get; init; } = new();
}
