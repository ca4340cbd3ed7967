using System.Globalization;

namespace EdgeGuard.Reports.Text;

/// <summary>
/// One unit as a picture of characters with live numbers: the gas path from blower to outlet, the cabinet above it.
/// It has always the same size, so a terminal can draw it over the one before.
/// </summary>
public static class TextPicture
{
    /// <summary>Widest line, characters.</summary>
    public const int Width = 78;

    /// <summary>Number of lines.</summary>
    public const int Height = 12;

    private const int PathTop = 6;
    private const int BoxHeight = 5;
    private const string NotKnown = "--";

    /// <summary>Draws a unit.</summary>
    /// <param name="view">Its numbers.</param>
    /// <param name="colour">True writes terminal colours; the caller respects NO_COLOR and pipes.</param>
    /// <param name="unicode">False for a terminal that knows ASCII only.</param>
    /// <returns>Twelve lines, each ended by a line feed.</returns>
    public static string Draw(PlantView view, bool colour, bool unicode = true)
    {
        ArgumentNullException.ThrowIfNull(view);
        var canvas = new TextCanvas(Width, Height);
        Head(canvas, view);
        Cabinet(canvas, view);
        Blower(canvas, view);
        Meter(canvas, view);
        Heater(canvas, view);
        Outlet(canvas, view);
        return canvas.Render(colour, unicode);
    }

    private static void Head(TextCanvas canvas, PlantView v)
    {
        canvas.Put(0, 0, v.Unit, TextTone.Strong);
        canvas.Put(v.Unit.Length + 2, 0, v.Purpose, TextTone.Dim);
        canvas.Put(40, 0, v.State, v.Tripped ? TextTone.Fault : TextTone.Strong);
        canvas.Put(Width - v.Time.Length, 0, v.Time, TextTone.Dim);
    }

    private static void Cabinet(TextCanvas canvas, PlantView v)
    {
        canvas.Box(0, 1, Width, 4);
        canvas.Put(2, 1, " cabinet ", TextTone.Dim);
        string key = v.KeySupervised switch { true => "SUPERVISED", false => "LOCAL", null => NotKnown };
        canvas.Put(2, 2, "key");
        canvas.Put(6, 2, key, v.KeySupervised == true ? TextTone.Good : TextTone.Warm);
        Lamp(canvas, 20, "permit", v.Permit);
        Lamp(canvas, 31, "relay", v.Relay);
        Lamp(canvas, 41, "enable", v.Enable);
        canvas.Put(53, 2, $"setpoint {Fixed(v.SetpointC, 6, 1)} °C");
        canvas.Put(2, 3, $"output {Fixed(v.OutputPercent, 5, 1)} %");
        canvas.Put(20, 3, $"power {Fixed(v.PowerKw, 5, 1)} kW");
        canvas.Put(36, 3, TextBars.Bar(v.PowerKw, v.RatedKw, 24), TextTone.Warm);
        canvas.Put(61, 3, $"of {Fixed(v.RatedKw, 3, 0)} kW", TextTone.Dim);
        canvas.Put(47, 4, "┬", TextTone.Dim);
        canvas.Put(47, 5, "▼", v.PowerKw > 0.01 * v.RatedKw ? TextTone.Warm : TextTone.Dim);
    }

    private static void Lamp(TextCanvas canvas, int x, string name, bool? on)
    {
        canvas.Put(x, 2, name);
        TextTone tone = on == true ? TextTone.Good : TextTone.Dim;
        canvas.Put(x + name.Length + 1, 2, on switch { true => "●", false => "○", null => "?" }, tone);
    }

    private static void Blower(TextCanvas canvas, PlantView v)
    {
        canvas.Box(0, PathTop, 13, BoxHeight);
        canvas.Put(2, PathTop + 1, "blower", TextTone.Strong);
        canvas.Put(2, PathTop + 2, $"{Fixed(v.BlowerPercent, 5, 1)} %");
        canvas.Put(2, PathTop + 3, TextBars.Bar(v.BlowerPercent, 100, 9), TextTone.Dim);
        canvas.Put(2, PathTop + 5, $"gas in {Fixed(v.InletC, 5, 1)} °C", TextTone.Dim);
        Pipe(canvas, 13, v);
    }

    private static void Meter(TextCanvas canvas, PlantView v)
    {
        bool low = v.FlowKgPerHour < v.FlowLimitKgPerHour;
        canvas.Box(18, PathTop, 16, BoxHeight);
        canvas.Put(20, PathTop + 1, "flow", TextTone.Strong);
        canvas.Put(20, PathTop + 2, $"{Fixed(v.FlowKgPerHour, 6, 1)} kg/h", low ? TextTone.Fault : TextTone.Plain);
        canvas.Put(20, PathTop + 3, $"trip <{Fixed(v.FlowLimitKgPerHour, 4, 0)}", TextTone.Dim);
        Pipe(canvas, 34, v);
    }

    private static void Heater(TextCanvas canvas, PlantView v)
    {
        canvas.Box(39, PathTop, 17, BoxHeight);
        canvas.Put(41, PathTop + 1, "heater", TextTone.Strong);
        Temperature(canvas, 41, v.ElementC, v.ElementTripC);
        canvas.Put(41, PathTop + 5, "element", TextTone.Dim);
        Pipe(canvas, 56, v);
    }

    private static void Outlet(TextCanvas canvas, PlantView v)
    {
        canvas.Put(62, PathTop + 1, "outlet", TextTone.Strong);
        Temperature(canvas, 62, v.OutletC, v.OutletTripC);
    }

    private static void Temperature(TextCanvas canvas, int x, double celsius, double tripC)
    {
        TextTone tone = celsius > tripC ? TextTone.Fault : celsius > 60 ? TextTone.Warm : TextTone.Plain;
        canvas.Put(x, PathTop + 2, $"{Fixed(celsius, 7, 1)} °C", tone);
        canvas.Put(x, PathTop + 3, $"trip >{Fixed(tripC, 5, 0)}", TextTone.Dim);
    }

    /// <summary>A pipe with an arrow while gas flows, an empty one without.</summary>
    private static void Pipe(TextCanvas canvas, int x, PlantView v)
    {
        bool flowing = v.FlowKgPerHour > 1;
        canvas.Put(x, PathTop + 2, flowing ? "════►" : "─────", flowing ? TextTone.Good : TextTone.Dim);
    }

    private static string Fixed(double value, int width, int digits)
    {
        string text = double.IsFinite(value)
            ? value.ToString(digits == 0 ? "0" : "0.0", CultureInfo.InvariantCulture)
            : NotKnown;
        return text.PadLeft(width);
    }
}
