using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.OpcUa.Security;
using EdgeGuard.Publication.Hosting;

namespace EdgeGuard.Publication.Pki;

/// <summary>Judges applications by the folders and keeps those it refuses. Trust is read anew when files change, without a restart.</summary>
public sealed class FolderJudge : ICertificateJudge
{
    private readonly TrustFolders _trust;
    private readonly RejectedFolder _rejected;
    private readonly Func<(long MonotonicMs, DateTime Utc)> _clock;
    private readonly CertificatePurpose _purpose;

    /// <summary>Makes the folders that are missing.</summary>
    /// <param name="paths">The folders.</param>
    /// <param name="note">Is told of changes of trust and of files that cannot be used.</param>
    /// <param name="clock">Clock of a test; null for the machine's.</param>
    /// <param name="purpose">What certificates are shown for.</param>
    public FolderJudge(PkiPaths paths, Action<string>? note = null, Func<(long MonotonicMs, DateTime Utc)>? clock = null, CertificatePurpose purpose = CertificatePurpose.ClientApplication)
    {
        ArgumentNullException.ThrowIfNull(paths);
        paths.Create();
        _purpose = purpose;
        _trust = new TrustFolders(paths, paths.Trusted, note);
        _rejected = new RejectedFolder(paths.Rejected);
        _clock = clock ?? (static () => (HostClock.MonotonicMs, DateTime.UtcNow));
    }

    /// <inheritdoc/>
    public CertificateVerdict Judge(PeerCertificate certificate)
    {
        ArgumentNullException.ThrowIfNull(certificate);
        (long monotonicMs, DateTime utc) = _clock();
        CertificateVerdict verdict = CertificateRules.Judge(certificate.Chain, _trust.Current(monotonicMs), utc, _purpose);
        if (!verdict.Trusted)
        {
            Keep(certificate.Der, verdict, monotonicMs, utc);
        }

        return verdict;
    }

    /// <inheritdoc/>
    public void Refused(ReadOnlySpan<byte> sent, CertificateVerdict refusal)
    {
        (long monotonicMs, DateTime utc) = _clock();
        Keep(sent, refusal, monotonicMs, utc);
    }

    private void Keep(ReadOnlySpan<byte> der, CertificateVerdict verdict, long monotonicMs, DateTime utc)
    {
        if (CertificateFacts.TryRead(der, out _) is { } certificate)
        {
            _rejected.Keep(certificate, verdict, utc, monotonicMs);
        }
    }
}
