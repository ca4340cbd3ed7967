using System.Text.Json.Serialization;

namespace EdgeGuard.Service.Requests;

/// <summary>Serialisation of the socket's messages, generated at build time; an unknown member is an error.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    MaxDepth = 8)]
[JsonSerializable(typeof(RequestMessage))]
[JsonSerializable(typeof(RequestAnswer))]
[JsonSerializable(typeof(SiteStatus))]
public sealed partial class RequestJson : JsonSerializerContext;
