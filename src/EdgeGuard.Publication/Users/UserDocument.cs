using System.Text.Json.Serialization;

namespace EdgeGuard.Publication.Users;

/// <summary>The file of users.</summary>
[JsonUnmappedMemberHandling(JsonUnmappedMemberHandling.Disallow)]
internal sealed record UserDocument
{
    public IReadOnlyList<UserRecord>? Users { get; init; }
}
