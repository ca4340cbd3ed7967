using System.CommandLine;
using System.Globalization;
using System.Net.Sockets;
using System.Text.Json;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Commands;

/// <summary>`edgeguard request`: asks the running guard for a deliberate act and prints its answer.</summary>
internal static class RequestCommand
{
    private const int LimitMs = RequestLimits.DecisionLimitMs + RequestLimits.ReceiveLimitMs;

    private static readonly (string Kind, string Description, string Example)[] Kinds =
    [
        ("reset", "Clear a latched trip whose cause is gone. Never starts heating.", "filter changed"),
        ("start", "Begin pre-flow and then heating.", "batch 12"),
        ("stop", "Remove power now and cool with gas.", "smell at the outlet"),
        ("acknowledge", "Acknowledge alarms and trip. Changes no output.", "seen, calling maintenance"),
        ("cool", "Powered cool-down at the cap, then removal of power.", "end of shift"),
    ];

    public static Command Create()
    {
        var command = new Command("request", "Ask the running guard for an act of a person. Example: edgeguard request reset --unit N-1 --reason \"filter changed\"");
        foreach ((string kind, string description, string example) in Kinds)
        {
            command.Add(CreateKind(kind, description, example));
        }

        command.Add(CreateBypass());
        command.Add(CreateUnbypass());
        command.Add(CreateForce());
        command.Add(CreateUnforce());
        command.Add(CreateClassify());
        command.Add(CreateLearn());
        command.Add(AlarmRequests.Shelve());
        command.Add(AlarmRequests.Unshelve());
        command.Add(AlarmRequests.OutOfService());
        command.Add(AlarmRequests.InService());
        return command;
    }

    private static Command CreateBypass()
    {
        var function = Function();
        var minutes = new Option<int>("--minutes") { Description = "How long, in minutes; at most what the site file allows.", Required = true };
        return CreateSigned(
            "bypass", "Bypass one function for a stated time; it goes on being judged and its demands are counted.", "--function FLOW --minutes 30", "meter being exchanged", [function, minutes],
            (parsed, message) => message with { Function = parsed.GetValue(function), Minutes = parsed.GetValue(minutes) });
    }

    private static Command CreateUnbypass()
    {
        var function = Function();
        return CreateSigned(
            "unbypass", "End a bypass before its time.", "--function FLOW", "meter exchanged", [function],
            (parsed, message) => message with { Function = parsed.GetValue(function) });
    }

    private static Command CreateForce()
    {
        var signal = new Argument<string>("SIGNAL=VALUE") { Description = "Name of the signal and its value in °C, kg/h, A, mA or kΩ, for example gasFlow=140." };
        var minutes = new Option<int>("--minutes") { Description = "How long, in minutes; at most what the site file allows.", Required = true };
        Command command = CreateSigned(
            "force", "Force the value of one signal for a stated time; what the real value demands goes on being counted.", "--minutes 15", "meter being exchanged", [minutes],
            (parsed, message) => message with { Signal = ForcedName(parsed.GetValue(signal)!), Value = ForcedValue(parsed.GetValue(signal)!), Minutes = parsed.GetValue(minutes) },
            "gasFlow=140 ");
        command.Add(signal);
        return command;
    }

    private static Command CreateUnforce()
    {
        var signal = new Argument<string>("SIGNAL") { Description = "Name of the signal, for example gasFlow." };
        Command command = CreateSigned(
            "unforce", "End a force before its time.", "", "meter exchanged", [], (parsed, message) => message with { Signal = parsed.GetValue(signal) }, "gasFlow ");
        command.Add(signal);
        return command;
    }

    private static string ForcedName(string text) => text.Split('=')[0];

    /// <summary>No number is no value: the check of the request says so.</summary>
    private static double? ForcedValue(string text) =>
        text.IndexOf('=', StringComparison.Ordinal) is var at and >= 0
        && double.TryParse(text.AsSpan(at + 1), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value)
            ? value
            : null;

    private static Command CreateClassify()
    {
        var found = new Option<string>("--as") { Description = "genuine or spurious.", Required = true };
        return CreateSigned(
            "classify", "Say what the latest trip of the unit was; spurious trips are counted.", "--as spurious", "loose terminal at the meter", [found],
            (parsed, message) => message with { Class = parsed.GetValue(found) });
    }

    private static Command CreateLearn()
    {
        var function = Function();
        return CreateSigned(
            "learn", "Let a function learn anew what it judges by: after work on the heater, at commissioning.", "--function BALA", "lining renewed", [function],
            (parsed, message) => message with { Function = parsed.GetValue(function) });
    }

    private static Option<string> Function() => new("--function") { Description = "Code of the function, for example FLOW.", Required = true };

    /// <summary>A request that a person signs by name.</summary>
    internal static Command CreateSigned(string kind, string description, string options, string example, Option[] further, Func<ParseResult, RequestMessage, RequestMessage> fill, string first = "")
    {
        var unit = new Option<string>("--unit") { Description = "Name of the unit.", Required = true };
        var reason = new Option<string>("--reason") { Description = "Why, in a few words for the journal.", Required = true };
        var person = new Option<string>("--person") { Description = "Who asks, by name; the user of this session is journalled beside it.", Required = true };
        var site = new Option<string>("--site") { Description = "Site folder.", DefaultValueFactory = static _ => "." };
        var command = new Command(kind, $"{description} Example: edgeguard request {kind} {first}--unit N-1 {options} --person \"A. Smith\" --reason \"{example}\"") { unit, reason, person, site };
        foreach (Option option in further)
        {
            command.Add(option);
        }

        command.SetAction(parsed => Ask(parsed.GetValue(site)!, fill(parsed, new RequestMessage
        {
            Kind = kind,
            Unit = parsed.GetValue(unit),
            Reason = parsed.GetValue(reason),
            Person = parsed.GetValue(person),
        })));
        return command;
    }

    private static Command CreateKind(string kind, string description, string example)
    {
        var unit = new Option<string>("--unit") { Description = "Name of the unit.", Required = true };
        var reason = new Option<string>("--reason") { Description = "Why, in a few words for the journal.", Required = true };
        var person = new Option<string?>("--person") { Description = "Who asks; the user of this session is journalled beside it." };
        var site = new Option<string>("--site") { Description = "Site folder.", DefaultValueFactory = static _ => "." };
        var command = new Command(kind, $"{description} Example: edgeguard request {kind} --site /etc/edgeguard/site --unit N-1 --reason \"{example}\"") { unit, reason, person, site };
        command.SetAction(parsed => Ask(parsed.GetValue(site)!, new RequestMessage
        {
            Kind = kind,
            Unit = parsed.GetValue(unit),
            Reason = parsed.GetValue(reason),
            Person = parsed.GetValue(person),
        }));
        return command;
    }

    private static int Ask(string folder, RequestMessage message)
    {
        if (SiteLoader.Load(folder).Site is { } site
            && !RequestReader.TryCheck(message, [.. site.Table.Units.Select(static u => u.Name)], string.Empty, out _, out string fault))
        {
            Console.Error.WriteLine($"edgeguard: {fault}");
            return ExitCode.Usage;
        }

        int code = TryExchange(folder, message, out byte[] line);
        if (code != ExitCode.Good)
        {
            return code;
        }

        RequestAnswer? answer = JsonSerializer.Deserialize(line, RequestJson.Default.RequestAnswer);
        Console.WriteLine($"{message.Unit}: {message.Kind}: {answer?.Message ?? "no answer"}");
        return answer?.Result switch
        {
            "accepted" => ExitCode.Good,
            "unavailable" => ExitCode.Unavailable,
            "invalid" => ExitCode.Usage,
            _ => ExitCode.Found,
        };
    }

    /// <summary>Sends a message to the guard of a site; an exit code other than good has been explained on the error output.</summary>
    internal static int TryExchange(string folder, RequestMessage message, out byte[] line)
    {
        line = [];
        string? data = SiteFolder.DataFolder(folder, out SiteLoadResult loaded);
        if (data is null)
        {
            return SiteFolder.Refuse(loaded);
        }

        try
        {
            line = RequestClient.Exchange(data, message, LimitMs);
        }
        catch (Exception e) when (e is SocketException or ArgumentException)
        {
            Console.Error.WriteLine($"edgeguard: {Explain(e, data, folder)}");
            return ExitCode.Unavailable;
        }

        if (line.Length == 0)
        {
            Console.Error.WriteLine("edgeguard: the guard closed the connection without an answer; is it stopping?");
            return ExitCode.Unavailable;
        }

        return ExitCode.Good;
    }

    private static string Explain(Exception e, string data, string folder) => (e as SocketException)?.SocketErrorCode switch
    {
        SocketError.AccessDenied => $"no permission on {RequestClient.SocketPath(data)}; ask as the user the guard runs as, as root, or as a member of its request group",
        SocketError.TimedOut => "the guard did not answer in time",
        null => e.Message,
        _ => $"no guard is running on {data}; start it with: edgeguard run {folder}",
    };
}
