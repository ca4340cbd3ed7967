using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Certificates;

namespace EdgeGuard.Publication.Site;

/// <summary>What this server tells of itself: how long its certificate lasts, so that whoever watches the plant sees it in time.</summary>
internal sealed class PublisherNodes
{
    private readonly VariableNode _notAfter;
    private readonly VariableNode _daysLeft;
    private readonly VariableNode _level;

    public PublisherNodes(SpaceBuilder builder, Node site)
    {
        ObjectNode folder = builder.AddFolder(site, "/publisher", "Publisher", "This server");
        _notAfter = builder.AddVariable(folder, new VariableSpec("/publisher/CertificateEnd", "CertificateEnd", new NodeId(StandardIds.UtcTime)) { Description = "End of the server's certificate; clients refuse it afterwards" });
        _daysLeft = builder.AddVariable(folder, new VariableSpec("/publisher/CertificateDaysLeft", "CertificateDaysLeft", new NodeId(StandardIds.Int32)) { Description = "Whole days until then; negative afterwards" });
        _level = builder.AddMultiState(folder, new VariableSpec("/publisher/CertificateExpiry", "CertificateExpiry", new NodeId(StandardIds.UInt32)) { Description = "How urgent it is to renew the server's certificate" }, Enum.GetNames<ExpiryLevel>());
    }

    public void Write(DateTime notAfterUtc, ExpiryLevel level, UaDateTime now)
    {
        _notAfter.Set(new Variant(UaDateTime.FromUtc(notAfterUtc)), now);
        _daysLeft.Set(new Variant(CertificateExpiry.DaysLeft(notAfterUtc, now.ToUtc())), now);
        _level.Set(new Variant((uint)level), now);
    }

    /// <summary>There is no certificate.</summary>
    public void WriteNone(UaDateTime now)
    {
        foreach (VariableNode node in new[] { _notAfter, _daysLeft, _level })
        {
            node.SetNoData(now);
        }
    }
}
