namespace EdgeGuard.Service.Configuration.Json;

/// <summary>One key of a JSON object with its place and value.</summary>
internal sealed record SiteMember(string Key, TextPosition At, SiteNode Value);
