using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;

namespace EdgeGuard.Commands;

/// <summary>The requests about one alarm: shelve, unshelve, outofservice, inservice. They change what people are told, never what a function does.</summary>
internal static class AlarmRequests
{
    private const int MinutesPerHour = 60;

    public static Command Shelve()
    {
        var alarm = Alarm();
        var time = new Option<int>("--for", "--minutes") { Description = "How long: 30m, 8h, or a number of minutes; at most what the site file allows.", Required = true, CustomParser = Minutes };
        Command command = RequestCommand.CreateSigned(
            "shelve", "Shelve one alarm for a stated time; what it tells of goes on being judged and recorded.", "--for 30m", "damper under repair", [time],
            (parsed, message) => message with { Alarm = parsed.GetValue(alarm), Minutes = parsed.GetValue(time) }, "COOL ");
        command.Add(alarm);
        return command;
    }

    public static Command Unshelve() => Create("unshelve", "Take an alarm from the shelf before its time.", "damper repaired");

    public static Command OutOfService() => Create("outofservice", "Take one alarm out of service, until it is returned or the guard is started again.", "sensor sent away");

    public static Command InService() => Create("inservice", "Return an alarm to service.", "sensor is back");

    private static Command Create(string kind, string description, string example)
    {
        var alarm = Alarm();
        Command command = RequestCommand.CreateSigned(kind, description, "", example, [], (parsed, message) => message with { Alarm = parsed.GetValue(alarm) }, "COOL ");
        command.Add(alarm);
        return command;
    }

    private static Argument<string> Alarm() => new("ALARM") { Description = "Name of the alarm: the code of its function, for example COOL, or TRIP." };

    private static int Minutes(ArgumentResult result)
    {
        string text = result.Tokens.Count == 1 ? result.Tokens[0].Value : string.Empty;
        int factor = text.EndsWith('h') ? MinutesPerHour : 1;
        string digits = text.Length > 0 && text[^1] is ('h' or 'm') ? text[..^1] : text;
        if (int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number <= int.MaxValue / MinutesPerHour)
        {
            return number * factor;
        }

        result.AddError($"--for: found \"{text}\"; expected a time as 30m, 8h or a number of minutes");
        return 0;
    }
}
