using System.Security.Cryptography.X509Certificates;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Sessions;
using EdgeGuard.Publication.Users;

namespace EdgeGuard.Publication.Pki;

/// <summary>What a publisher needs of the data folder to be trusted and to know whom to trust.</summary>
public sealed class SecurityParts : IDisposable
{
    private SecurityParts(X509Certificate2 own, FolderJudge judge, FolderJudge discoveryJudge, FolderUsers users)
    {
        (Judge, DiscoveryJudge, Users) = (judge, discoveryJudge, users);
        Instance = new ApplicationInstance(own);
        Certificate = CertificateFacts.TryRead(Instance.Der, out string fault) ?? throw new PkiException("the own certificate: " + fault);
        ApplicationUri = Certificate.Uris.Count > 0 ? Certificate.Uris[0] : throw new PkiException("the own certificate has no application URI; try edgeguard certs renew");
    }

    /// <summary>Own certificate and key.</summary>
    public ApplicationInstance Instance { get; }

    /// <summary>The own certificate as read, with its end for <see cref="CertificateWatch"/>.</summary>
    public CertificateFacts Certificate { get; }

    /// <summary>The application URI of the own certificate: endpoints, ServerArray and NamespaceArray have to say the same.</summary>
    public string ApplicationUri { get; }

    /// <summary>Judge of clients.</summary>
    public ICertificateJudge Judge { get; }

    /// <summary>Judge of the discovery server, by the same folders.</summary>
    public ICertificateJudge DiscoveryJudge { get; }

    /// <summary>Users.</summary>
    public IUserAuthority Users { get; }

    /// <summary>Opens the folders, makes the own certificate at the first start. Throws <see cref="PkiException"/>, IOException or UnauthorizedAccessException.</summary>
    /// <param name="dataFolder">Data folder of the site.</param>
    /// <param name="siteName">Name of the site, for a certificate that is made.</param>
    /// <param name="log">Takes what is refused and what changes.</param>
    public static SecurityParts Open(string dataFolder, string siteName, IServerLog log)
    {
        ArgumentNullException.ThrowIfNull(log);
        var paths = new PkiPaths(dataFolder);
        using X509Certificate2 own = OwnCertificateFolder.LoadOrCreate(paths, OwnCertificateOptions.ForThisHost(siteName), DateTime.UtcNow);
        return new SecurityParts(own, new FolderJudge(paths, log.Note), new FolderJudge(paths, purpose: CertificatePurpose.ServerApplication), new FolderUsers(dataFolder, log.Note));
    }

    /// <summary>Wipes the key.</summary>
    public void Dispose() => Instance.Dispose();
}
