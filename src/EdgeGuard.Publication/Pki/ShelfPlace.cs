namespace EdgeGuard.Publication.Pki;

/// <summary>In which folder a certificate stands; the zero value gives no trust.</summary>
public enum ShelfPlace
{
    /// <summary>Refused.</summary>
    Rejected,

    /// <summary>Trusted application or trusted issuer.</summary>
    Trusted,

    /// <summary>Completes chains only.</summary>
    Issuers,

    /// <summary>Trusted person, or trusted issuer of people's certificates.</summary>
    Users,
}
