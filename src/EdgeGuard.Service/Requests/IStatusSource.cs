namespace EdgeGuard.Service.Requests;

/// <summary>Builds the status outside the scan thread.</summary>
public interface IStatusSource
{
    /// <summary>The status at this moment.</summary>
    SiteStatus Status();
}
