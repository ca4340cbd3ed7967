using System.Text.Json;

namespace EdgeGuard.Demo;

/// <summary>One event in the answer of a conducted scan.</summary>
internal sealed record GuardEventView(string Event, string Unit, string Function, double Value, double Limit, double Detail, string? Message)
{
    public static GuardEventView Parse(JsonElement json) => new(
        json.GetProperty("event").GetString() ?? "",
        json.GetProperty("unit").GetString() ?? "",
        json.TryGetProperty("function", out JsonElement function) ? function.GetString() ?? "" : "",
        GuardUnitView.Number(json, "value"),
        GuardUnitView.Number(json, "limit"),
        GuardUnitView.Number(json, "detail"),
        json.TryGetProperty("message", out JsonElement message) ? message.GetString() : null);
}
