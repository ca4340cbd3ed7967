using System.Text.Json;

namespace EdgeGuard.Demo;

/// <summary>One unit in the answer of a conducted scan.</summary>
internal sealed record GuardUnitView
{
    public required string Name { get; init; }

    public required string State { get; init; }

    public string? FirstOut { get; init; }

    public bool Permit { get; init; }

    public bool RampHeld { get; init; }

    public bool PowerProvedOff { get; init; }

    public int Trips { get; init; }

    public bool? Key { get; init; }

    public bool? Relay { get; init; }

    public bool? Enable { get; init; }

    public double LedC { get; init; }

    public double ElementC { get; init; }

    public double OutletC { get; init; }

    public double InletC { get; init; }

    public double FlowKgPerHour { get; init; }

    public double PowerKw { get; init; }

    public double OutputPercent { get; init; }

    public double BlowerPercent { get; init; }

    public static GuardUnitView Parse(JsonElement json) => new()
    {
        Name = json.GetProperty("name").GetString() ?? "",
        State = json.GetProperty("state").GetString() ?? "",
        FirstOut = json.TryGetProperty("first_out", out JsonElement first) ? first.GetString() : null,
        Permit = json.GetProperty("permit").GetBoolean(),
        RampHeld = json.GetProperty("ramp_held").GetBoolean(),
        PowerProvedOff = json.GetProperty("power_proved_off").GetBoolean(),
        Trips = json.GetProperty("trips").GetInt32(),
        Key = Flag(json, "key_supervised"),
        Relay = Flag(json, "relay"),
        Enable = Flag(json, "enable"),
        LedC = Number(json, "led_c"),
        ElementC = Number(json, "element_c"),
        OutletC = Number(json, "outlet_c"),
        InletC = Number(json, "inlet_c"),
        FlowKgPerHour = Number(json, "flow_kg_h"),
        PowerKw = Number(json, "power_kw"),
        OutputPercent = Number(json, "output_percent"),
        BlowerPercent = Number(json, "blower_percent"),
    };

    private static bool? Flag(JsonElement json, string name) => Number(json, name) switch
    {
        1 => true,
        0 => false,
        _ => null,
    };

    internal static double Number(JsonElement json, string name) =>
        json.TryGetProperty(name, out JsonElement value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : double.NaN;
}
