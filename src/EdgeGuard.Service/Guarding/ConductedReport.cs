using System.Buffers;
using System.Globalization;
using System.Text;
using System.Text.Json;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Guarding;

/// <summary>The line that answers a conducted scan: `scan N` and one compact JSON object with units and events.</summary>
internal sealed class ConductedReport
{
    private static readonly (SignalRole Role, string Name)[] Signals =
    [
        (SignalRole.ElementTemperature, "element_c"), (SignalRole.OutletTemperature, "outlet_c"), (SignalRole.InletTemperature, "inlet_c"),
        (SignalRole.GasFlow, "flow_kg_h"), (SignalRole.Power, "power_kw"), (SignalRole.Output, "output_percent"), (SignalRole.BlowerDemand, "blower_percent"),
        (SignalRole.KeySupervised, "key_supervised"), (SignalRole.Relay, "relay"), (SignalRole.Enable, "enable"),
    ];

    private readonly SiteTable _site;
    private readonly ArrayBufferWriter<byte> _buffer = new(4096);

    public ConductedReport(SiteTable site) => _site = site;

    public void Write(TextWriter to, ScanOutput output, long utcMs, bool durable)
    {
        _buffer.ResetWrittenCount();
        using (var json = new Utf8JsonWriter(_buffer))
        {
            json.WriteStartObject();
            json.WriteNumber("utc_ms", utcMs);
            json.WriteBoolean("durable", durable);
            WriteNumber(json, "site_power_kw", output.SitePowerKw);
            json.WriteStartArray("units");
            for (int unit = 0; unit < output.Units.Length; unit++)
            {
                WriteUnit(json, unit, output.Units[unit]);
            }

            json.WriteEndArray();
            WriteEvents(json, output);
            json.WriteEndObject();
        }

        to.WriteLine(string.Create(CultureInfo.InvariantCulture, $"scan {output.Scan} {Encoding.UTF8.GetString(_buffer.WrittenSpan)}"));
        to.Flush();
    }

    private void WriteUnit(Utf8JsonWriter json, int unit, UnitDecision decision)
    {
        json.WriteStartObject();
        json.WriteString("name", _site.Units[unit].Name);
        json.WriteString("state", decision.State.ToString());
        if (decision.FirstOut != FunctionId.None)
        {
            json.WriteString("first_out", FunctionTexts.Of(decision.FirstOut).Code);
        }

        json.WriteBoolean("permit", decision.Permit);
        json.WriteBoolean("pending_durable", decision.PendingDurable);
        json.WriteBoolean("ramp_held", decision.RampHeld);
        json.WriteBoolean("power_proved_off", decision.PowerProvedOff);
        json.WriteNumber("trips", decision.TripCount);
        WriteNumber(json, "led_c", decision.LedSetpointC);
        WriteNumber(json, "element_slope_k_min", decision.ElementSlopeKPerMin);
        WriteNumber(json, "cool_slope_k_min", decision.CoolSlopeKPerMin);
        foreach ((SignalRole role, string name) in Signals)
        {
            ref SignalValue signal = ref decision.Image[role];
            WriteNumber(json, name, signal.IsGood ? signal.Value : double.NaN);
        }

        json.WriteEndObject();
    }

    private void WriteEvents(Utf8JsonWriter json, ScanOutput output)
    {
        json.WriteStartArray("events");
        for (int i = 0; i < output.EventCount; i++)
        {
            ref GuardEvent e = ref output.Events[i];
            json.WriteStartObject();
            json.WriteString("event", e.Id.ToString());
            json.WriteString("unit", e.Unit >= 0 ? _site.Units[e.Unit].Name : null);
            if (e.Function != FunctionId.None)
            {
                json.WriteString("function", FunctionTexts.Of(e.Function).Code);
            }

            WriteNumber(json, "value", e.Value);
            WriteNumber(json, "limit", e.Limit);
            json.WriteNumber("detail", e.Detail);
            if (e.Id is EventId.RequestAccepted or EventId.RequestRefused)
            {
                json.WriteString("message", RefusalText.Of(e));
            }

            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteNumber(Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value))
        {
            json.WriteNumber(name, value);
        }
        else
        {
            json.WriteNull(name);
        }
    }
}
