using System.Text.Json.Serialization;

namespace EdgeGuard.Publication.Users;

/// <summary>One user as it stands in the file.</summary>
[JsonUnmappedMemberHandling(JsonUnmappedMemberHandling.Disallow)]
internal sealed record UserRecord
{
    public string? Name { get; init; }

    public string? Role { get; init; }

    public byte[]? Salt { get; init; }

    public int? Iterations { get; init; }

    public byte[]? Hash { get; init; }

    public string? CertificateSha256 { get; init; }
}
