using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Commands;

/// <summary>`edgeguard status`: what the running guard sees and decides, as text or as JSON.</summary>
internal static class StatusCommand
{
    public static Command Create()
    {
        var site = new Option<string>("--site") { Description = "Site folder.", DefaultValueFactory = static _ => "." };
        var json = new Option<bool>("--json") { Description = "Print the status as one line of JSON." };
        var command = new Command("status", "Show what the running guard sees and decides. Example: edgeguard status --site /etc/edgeguard/site") { site, json };
        command.SetAction(parsed => Show(parsed.GetValue(site)!, parsed.GetValue(json)));
        return command;
    }

    private static int Show(string folder, bool asJson)
    {
        int code = RequestCommand.TryExchange(folder, new RequestMessage { Kind = RequestReader.Status }, out byte[] line);
        if (code != ExitCode.Good)
        {
            return code;
        }

        if (Refusal(line) is { } refusal)
        {
            Console.Error.WriteLine($"edgeguard: {refusal}");
            return ExitCode.Found;
        }

        if (asJson)
        {
            Console.Write(Encoding.UTF8.GetString(line));
            return ExitCode.Good;
        }

        Print(JsonSerializer.Deserialize(line, RequestJson.Default.SiteStatus)!);
        return ExitCode.Good;
    }

    private static string? Refusal(byte[] line)
    {
        using JsonDocument answer = JsonDocument.Parse(line);
        return answer.RootElement.TryGetProperty("result", out _) ? answer.RootElement.GetProperty("message").GetString() : null;
    }

    private static void Print(SiteStatus status)
    {
        Line($"{status.Site}  scan {status.Scan} of {status.ScanMs} ms  {DateTimeOffset.FromUnixTimeMilliseconds(status.UtcUnixMs):yyyy-MM-dd HH:mm:ss}Z  power {Number(status.SitePowerKw, "0.0")}{(status.SupplyLimitKw is { } limit ? string.Create(CultureInfo.InvariantCulture, $" of {limit:0.#}") : "")} kW");
        if (status.SecondsUntilAllHot is { } hot)
        {
            Line($"supply   all units on their way are hot in {hot / 60:0} min at the earliest");
        }

        Line($"journal  {status.Journal.Health}, durable event {status.Journal.DurableEvent}, line {status.Journal.HeadNumber}{(status.Journal.Failure.Length > 0 ? ", " + status.Journal.Failure : "")}");
        Line($"loop     late {status.Loop.LatenessUs} µs, at most {status.Loop.LatenessMaxUs} µs, {Counted.Of(status.Loop.Overruns, "overrun")}, {status.Loop.Skipped} given up after a standstill, allocated in the last minute {Text(status.Loop.AllocatedLastMinuteBytes)} bytes");
        if (status.Alarms is { } alarms)
        {
            PrintAlarms(alarms);
        }

        foreach (LinkStatus link in status.Links)
        {
            PrintLink(link);
        }

        foreach (UnitStatus unit in status.Units)
        {
            PrintUnit(unit);
        }
    }

    /// <summary>What it does in one line, then each thing that goes wrong or is in the way, and what to look for.</summary>
    private static void PrintLink(LinkStatus link)
    {
        Line($"link     {link.Name,-12} {(link.Online ? "online" : "OFFLINE"),-8} reads {link.Of(LinkFigure.GoodReads)} good {link.Of(LinkFigure.FailedReads)} failed, writes {link.Of(LinkFigure.GoodWrites)} good {link.Of(LinkFigure.FailedWrites)} failed {link.Of(LinkFigure.DroppedWrites)} dropped, lost {Counted.Of(link.Of(LinkFigure.Losses), "time")}, round trip {link.Of(LinkFigure.RoundTripLast) / 1000.0:0.0} ms, at most {link.Of(LinkFigure.RoundTripMax) / 1000.0:0.0} ms");
        foreach (CertificateReport certificate in link.Certificates ?? [])
        {
            Line($"         {certificate.What}: {certificate.Words}, until {certificate.Until}");
        }

        foreach (LinkFigureText text in LinkFigureTexts.All)
        {
            if (text.Kind == LinkFigureKind.Trouble && link.Of(text.Figure) != 0)
            {
                Line($"  {link.Of(text.Figure),9}  {text.Name}: {text.Title}; look at: {text.LookAt}");
            }
        }
    }

    private static void PrintUnit(UnitStatus unit)
    {
        Console.WriteLine();
        string firstOut = unit.FirstOut is null ? "" : $"  first out {unit.FirstOut}";
        Line($"{unit.Name}  {unit.State}{firstOut}  permit {(unit.Permit ? "yes" : "no")}  mode {unit.Mode}  led setpoint {Number(unit.LedSetpointC, "0.0")} °C  trips {unit.TripCount}{(unit.ResetsTooOften ? "  RESET TOO OFTEN" : "")}");
        PrintWatch(unit);
        foreach (SignalStatus signal in unit.Signals)
        {
            string forced = signal.Forced is { } f ? $"  for {(f.SecondsLeft + 59) / 60} min more; the device says {Number(f.RealValue, "0.0##")} ({StatusWords.Of(f.RealStatus)}), {Counted.Of(f.Demands, "demand")}" : "";
            Line($"  {signal.Role,-20} {(signal.Good ? Number(signal.Value, "0.0##") : "not good"),12}  {(signal.AgeMs == int.MaxValue ? "never read" : signal.AgeMs + " ms"),10}  {StatusWords.Of(signal.Status)}{forced}");
        }

        foreach (FunctionReport function in unit.Functions)
        {
            string bypass = function.BypassSecondsLeft is { } left ? $"  BYPASSED for {(left + 59) / 60} min more, {Counted.Of(function.BypassedDemands, "demand")}" : "";
            string taken = function.ForcedDemands > 0 ? $"  {Counted.Of(function.ForcedDemands, "demand")} taken away by forced values" : "";
            string trips = function.Trips > 0 ? $"  {Counted.Of(function.Trips, "trip")}, {function.SpuriousTrips} spurious" : "";
            Line($"  {function.Function,-6} {function.State,-8} {Number(function.Value, "0.0##"),10} limit {Number(function.Limit, "0.0##")} {function.Unit}{bypass}{taken}{trips}");
        }
    }

    private static void PrintWatch(UnitStatus unit)
    {
        if (unit.Forcible is { } forcible)
        {
            Line($"  may be forced: {forcible}");
        }

        foreach (AlarmReport alarm in unit.Alarms)
        {
            Line($"  alarm  {alarm.Alarm,-6} {alarm.State}{Hidden(alarm)}{(alarm.Chattering ? "  CHATTERING" : "")}{(alarm.Stale ? "  for more than a day" : "")}");
        }

        if (unit.SupplyPlace is { } place)
        {
            Line($"  waits for the shared supply, number {place} in the order of start");
        }

        if (unit.SecondsUntilHot is { } hot)
        {
            Line($"  hot in {hot / 60:0} min at the earliest");
        }

        if (unit.SecondsLeft is { } left)
        {
            Line($"  led ramp ends in {left / 60:0} min");
        }

        if (unit.Use is { } use)
        {
            Line($"  since {DateTimeOffset.FromUnixTimeMilliseconds(use.SinceUtcMs).UtcDateTime:yyyy-MM-dd}: {use.KilowattHours:0.0} kWh, {use.PoweredHours:0.0} h powered, contactor {Counted.Of(use.ContactorClosings, "time")}; cycles {use.LedCycles} led, {use.ForcedCycles} forced by trips (deepest {use.DeepestLedK:0} and {use.DeepestForcedK:0} K); falls faster than the cap {use.LedExcessSeconds:0} s led, {use.ForcedExcessSeconds:0} s forced");
            if (use.LossWattsPerK is { } loss)
            {
                Line($"  learnt loss {loss:0.0} W/K from {Counted.Of(use.LossBlocks, "block")}");
            }

            if (use.NoiseElementK + use.NoiseOutletK + use.NoiseFlowKgPerHour > 0)
            {
                Line($"  learnt noise: element {use.NoiseElementK:0.000} K, outlet {use.NoiseOutletK:0.000} K, flow {use.NoiseFlowKgPerHour:0.000} kg/h (0: not judged)");
            }

            PrintLegs(use.Legs);
            if (use.Bands.Count > 0)
            {
                Line($"  element: {string.Join(", ", use.Bands.Select(b => string.Create(CultureInfo.InvariantCulture, $"{b.Hours:0.0} h from {b.FromC:0} °C up")))}, each to the next band");
            }
        }
    }

    private static void PrintLegs(LegStatus? legs)
    {
        if (legs is not null)
        {
            string date = legs.WarnUtcMs is { } warn ? $", one is 10 % up about {Day(warn)} (from {Day(legs.EarliestUtcMs)} to {Day(legs.LatestUtcMs)})" : ", no date yet";
            Line($"  legs at 20 °C against the first reading: {legs.Percent[0]:+0.0;-0.0} {legs.Percent[1]:+0.0;-0.0} {legs.Percent[2]:+0.0;-0.0} % after {Counted.Of(legs.Readings, "reading")}, fastest {Number(legs.PercentPerYear, "+0.0;-0.0")} % a year{date}");
        }
    }

    private static string Day(double? utcMs) =>
        utcMs is { } ms ? DateTimeOffset.FromUnixTimeMilliseconds((long)ms).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : "no end";

    private static void PrintAlarms(AlarmStatus alarms)
    {
        Line($"alarms   {alarms.Standing} standing, {alarms.Unacknowledged} not acknowledged, {alarms.Shelved} shelved, {alarms.OutOfService} out of service, {alarms.Suppressed} suppressed by design, {alarms.Chattering} chattering, {alarms.Stale} for more than a day");
        Line($"         {alarms.InTenMinutes} told in the last 10 min, {alarms.AverageInTenMinutes:0.0} on average ({Words(alarms.Load)}), at most {alarms.MostInTenMinutes} ({Words(alarms.UpsetLoad)}); {Counted.Of(alarms.Floods, "flood")}, {alarms.FloodPercent:0.0} % of the time{(alarms.InFlood ? ", FLOOD NOW" : "")}; of {alarms.Total} since start {alarms.High} high, {alarms.Medium} medium, {alarms.Low} low");
    }

    /// <summary>"VeryLikelyAcceptable" as words.</summary>
    private static string Words(string name) => string.Concat(name.Select(static (c, i) => i > 0 && char.IsUpper(c) ? " " + char.ToLowerInvariant(c) : char.ToLowerInvariant(c).ToString()));

    private static string Hidden(AlarmReport alarm)
    {
        string left = alarm.ShelfSecondsLeft is { } seconds ? string.Create(CultureInfo.InvariantCulture, $" for {(seconds + 59) / 60} min more") : "";
        string by = alarm.HiddenBy is { } person ? $" by {person}" : "";
        string why = alarm.Reason is { } reason ? $": {reason}" : "";
        return left + by + why + (alarm.Condition && left.Length + by.Length > 0 ? "  CONDITION STANDS" : "");
    }

    private static void Line(FormattableString line) => Console.WriteLine(line.ToString(CultureInfo.InvariantCulture));

    private static string Number(double? value, string format) => value?.ToString(format, CultureInfo.InvariantCulture) ?? "unknown";

    private static string Text(long? value) => value?.ToString(CultureInfo.InvariantCulture) ?? "unknown";
}
