using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Reports.Charts;
using EdgeGuard.Reports.Html;

namespace EdgeGuard.Demo;

/// <summary>Tells the person what happens, in plain lines with simulated time, and keeps the lines for the report.</summary>
internal sealed class DemoStory(TextWriter output, bool isTerminal)
{
    private const int LivePeriodS = 10;
    private const int PlainPeriodS = 120;
    private readonly List<StoryLine> _lines = [];
    private readonly List<ChartMark> _marks = [];
    private readonly HashSet<(string Event, string Unit)> _heard = [];
    private double _nextLive;
    private bool _liveOpen;

    public IReadOnlyList<StoryLine> Lines => _lines;

    public IReadOnlyList<ChartMark> Marks => _marks;

    /// <summary>True when the guard has told this event of this unit.</summary>
    public bool Heard(string eventName, string unit) => _heard.Contains((eventName, unit));

    /// <summary>A line of the story.</summary>
    public void Tell(double seconds, string unit, string text, ChartTone tone = ChartTone.Neutral)
    {
        EndLive();
        string time = Clock(seconds);
        _lines.Add(new StoryLine(time, unit, text, tone));
        output.WriteLine($"{time}  {unit,-4} {text}");
    }

    /// <summary>A line that is also marked in the charts.</summary>
    public void Mark(double seconds, string unit, string text, ChartTone tone)
    {
        Tell(seconds, unit, text, tone);
        _marks.Add(new ChartMark(seconds, unit.Length > 0 ? $"{unit}: {Short(text)}" : Short(text), tone));
    }

    /// <summary>Text outside the story: pictures, tables, hints.</summary>
    public void Say(string text)
    {
        EndLive();
        output.WriteLine(text);
    }

    /// <summary>Live numbers: rewritten in place on a terminal, now and then a line elsewhere.</summary>
    public void Live(double seconds, GuardRound round)
    {
        if (seconds < _nextLive)
        {
            return;
        }

        _nextLive = seconds + (isTerminal ? LivePeriodS : PlainPeriodS);
        string numbers = string.Join("  |  ", round.Units.Select(Numbers));
        if (isTerminal)
        {
            output.Write($"\r{Clock(seconds)}  {numbers}   ");
            _liveOpen = true;
        }
        else
        {
            output.WriteLine($"{Clock(seconds)}  {numbers}");
        }
    }

    /// <summary>Events of the guard that a person would want to hear of.</summary>
    public void Hear(double seconds, GuardEventView e)
    {
        _heard.Add((e.Event, e.Unit));
        switch (e.Event)
        {
            case "Trip" when e.Function == "START":
                break; // told by the script: power-on is a trip
            case "Trip":
                Mark(seconds, e.Unit, $"trips: {e.Function}, {Figure(e.Value)} against the limit {Figure(e.Limit)}. Power is removed, the trip is latched.", ChartTone.Fault);
                break;
            case "WouldTrip":
                Mark(seconds, e.Unit, $"the guard only observes: {e.Function} demands a trip ({Figure(e.Value)} against {Figure(e.Limit)}) and nothing is done.", ChartTone.Fault);
                break;
            case "FlowProved":
                Tell(seconds, e.Unit, $"flow proved: {Figure(e.Value)} kg/h held above {Figure(e.Limit)} kg/h.", ChartTone.Waiting);
                break;
            case "PermitGranted":
                Tell(seconds, e.Unit, $"permit granted and on disk before any power; the setpoint is led from {Figure(e.Value)} to {Figure(e.Limit)} °C.", ChartTone.Hot);
                break;
            case "RampHeld" when e.Value < e.Limit:
                Tell(seconds, e.Unit, $"the ramp stands still: the shared supply carries {Figure(e.Value)} of {Figure(e.Limit)} kW.", ChartTone.Waiting);
                break;
            case "RampHeld":
                Tell(seconds, e.Unit, $"waits for the shared supply: {Figure(e.Value)} kW would be asked of {Figure(e.Limit)} kW.", ChartTone.Waiting);
                break;
            case "RampReleased":
                Tell(seconds, e.Unit, "the shared supply has room; the ramp goes on.", ChartTone.Hot);
                break;
            case "PowerProvedOff":
                Tell(seconds, e.Unit, $"power proved off by measurement: {Figure(e.Value)} kW.", ChartTone.Cool);
                break;
            case "ReadBackDiffers":
                Mark(seconds, e.Unit, $"the {Command(e.Detail)} reads back {Figure(e.Value)} although {Figure(e.Limit)} was written: alarm, and the write is repeated.", ChartTone.Fault);
                break;
            case "PowerNotRemoved":
                Mark(seconds, e.Unit, $"power was removed but {Figure(e.Value)} kW are still measured.", ChartTone.Fault);
                break;
            default:
                break;
        }
    }

    private static string Command(double detail) => Enum.IsDefined((CommandRole)(byte)detail) ? ((CommandRole)(byte)detail).ToString().ToLowerInvariant() : "command";

    private static string Figure(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    private static string Short(string text) => text.Split([',', ':', '.', ';'], 2)[0];

    private static string Clock(double seconds) => TimeSpan.FromSeconds(seconds).ToString(@"hh\:mm\:ss\.f", CultureInfo.InvariantCulture);

    private static string Numbers(GuardUnitView u) => string.Create(
        CultureInfo.InvariantCulture, $"{u.Name} {u.State,-12} element {u.ElementC,4:0} outlet {u.OutletC,4:0} °C  flow {u.FlowKgPerHour,3:0} kg/h  {u.PowerKw,4:0.0} kW");

    private void EndLive()
    {
        if (_liveOpen)
        {
            output.WriteLine();
            _liveOpen = false;
        }
    }
}
