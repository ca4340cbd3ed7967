using System.Text.Json.Serialization;

namespace EdgeGuard.Publication.Users;

/// <summary>Serialization without reflection.</summary>
[JsonSourceGenerationOptions(WriteIndented = true, PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull, AllowDuplicateProperties = false)]
[JsonSerializable(typeof(UserDocument))]
internal sealed partial class UserJson : JsonSerializerContext
{
}
