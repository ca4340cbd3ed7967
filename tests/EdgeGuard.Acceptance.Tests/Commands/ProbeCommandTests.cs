using System.Globalization;
using System.Text.RegularExpressions;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Acceptance.Tests.Commands;

/// <summary>`edgeguard probe` as an integrator uses it, against the virtual plant as a process.</summary>
public sealed partial class ProbeCommandTests : IDisposable
{
    private const string Settings = "\nbreak-detection,setting,input,11,bits,,5..6,1,0,,,,,r,\n";

    private readonly TestFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_temperature_read_at_the_cabinet_names_its_register_and_the_draft_map_loads()
    {
        using PlantChild plant = PlantChild.Start(_folder, "N-1");
        double outlet = plant.Truth().OutletIndicatedC;
        string file = _folder.File("draft.csv");
        CommandLine probe = Probe(plant, "--table", "input", "--from", "0", "--count", "12", "--expect", outlet.ToString(CultureInfo.InvariantCulture), "--within", "0.5", "--write-map", file);
        Assert.True(probe.ExitCode == ExitCode.Good, probe.Output + probe.Errors);
        Assert.Matches(OutletMatch(), probe.Output);
        Assert.Matches(RoundTrip(), probe.Output);
        Assert.Contains("nothing is written to the device", probe.Output, StringComparison.Ordinal);
        Assert.Contains("input-2,record,input,2,f32,ABCD,", File.ReadAllText(file), StringComparison.Ordinal);

        // The draft stands in for the meter's map beside the shipped one of the controller: it must load without a fault.
        string site = TestSite.N1(plant.Ports[0]).Write(_folder.File("site"));
        File.AppendAllLines(Path.Combine(site, "meter.csv"), File.ReadLines(file).Where(l => l.StartsWith("input-", StringComparison.Ordinal)).Skip(4).Select(l => l.Split('#')[0]));
        Assert.Equal(string.Empty, string.Join('\n', SiteLoader.Load(site).Faults));
    }

    [Fact]
    public void Nothing_that_fits_and_nobody_there_have_exit_codes_of_their_own()
    {
        using PlantChild plant = PlantChild.Start(_folder, "N-1");
        CommandLine nothing = Probe(plant, "--table", "input", "--from", "0", "--count", "12", "--expect", "777", "--rounds", "1");
        Assert.Equal(ExitCode.Found, nothing.ExitCode);
        Assert.Contains("Nothing reads as 777", nothing.Output, StringComparison.Ordinal);
        CommandLine hole = Probe(plant, "--table", "input", "--from", "300", "--count", "2", "--rounds", "1");
        Assert.Equal(ExitCode.Unavailable, hole.ExitCode);
        Assert.Contains("refused with exception 02: 300 to 301; no such registers", hole.Output, StringComparison.Ordinal);
        CommandLine unit = Probe(plant, "--unit-id", "9", "--from", "0", "--count", "2", "--rounds", "1", "--answer-ms", "100");
        Assert.Equal(ExitCode.Unavailable, unit.ExitCode);
        Assert.Contains("is the unit id right", unit.Output, StringComparison.Ordinal);
        CommandLine closed = CommandLine.Run("probe", "127.0.0.1:1", "--from", "0", "--count", "2");
        Assert.Equal(ExitCode.Unavailable, closed.ExitCode);
        Assert.Contains("nothing listens on port 1", closed.Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--from and --count: found no range", "127.0.0.1")]
    [InlineData("try --from 0 --count 10", "127.0.0.1", "--from", "40001", "--count", "30000")]
    [InlineData("--table: found 'coil'", "127.0.0.1", "--from", "0", "--count", "1", "--table", "coil")]
    [InlineData("expected HOST or HOST:PORT", "127.0.0.1:99999", "--from", "0", "--count", "1")]
    [InlineData("found neither TARGET nor --site", "--from", "0", "--count", "1")]
    [InlineData("--rate: found 500", "127.0.0.1", "--from", "0", "--count", "1", "--rate", "500")]
    [InlineData("--unit-id: found 0; expected 1 to 247 on a serial line", "/dev/null", "--from", "0", "--count", "1", "--unit-id", "0")]
    [InlineData("--unit-id: found 248; expected 1 to 247 on a serial line", "127.0.0.1", "--from", "0", "--count", "1", "--rtu-tcp", "--unit-id", "248")]
    [InlineData("--snapshot: found no --site", "--snapshot", "x.csv")]
    public void A_wrong_command_line_says_what_to_write(string sentence, params string[] arguments)
    {
        CommandLine probe = CommandLine.Run(["probe", .. arguments]);
        Assert.Equal(ExitCode.Usage, probe.ExitCode);
        Assert.Contains(sentence, probe.Errors, StringComparison.Ordinal);
    }

    [Trait("requirement", "CMDV-7")]
    [Fact]
    public void Settings_are_taken_compared_at_connect_and_a_difference_refuses_the_start_and_stands_in_the_journal()
    {
        using PlantChild plant = PlantChild.Start(_folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().Write(_folder.File("site"));
        File.AppendAllText(Path.Combine(site, "cabinet.csv"), Settings);
        RemovePoints(site, "element-break", "outlet-break");
        CommandLine taken = CommandLine.Run("probe", "--site", site, "--device", "n1-controller", "--snapshot", "n1-settings.csv", "--rate", "50");
        Assert.True(taken.ExitCode == ExitCode.Good, taken.Output + taken.Errors);
        string json = Path.Combine(site, "site.json");
        File.WriteAllText(json, File.ReadAllText(json).Replace("\"map\": \"cabinet.csv\"", "\"map\": \"cabinet.csv\", \"settings\": \"n1-settings.csv\"", StringComparison.Ordinal));
        CommandLine again = CommandLine.Run("probe", "--site", site, "--device", "n1-controller", "--snapshot", "n1-settings.csv", "--rate", "50");
        Assert.True(again.ExitCode == ExitCode.Good && again.Output.Contains("all settings as commissioned", StringComparison.Ordinal), again.Output + again.Errors);
        using (GuardChild guard = GuardChild.Start(_folder, site))
        {
            guard.StartUnit();
            guard.Await("pre-flow or heating", static s => GuardChild.StateOf(s) is "PreFlow" or "Heating" or "Holding");
            Assert.Equal(ExitCode.Good, guard.Terminate());
        }

        // Commissioned with another break detection than the device has now.
        string snapshot = Path.Combine(site, "n1-settings.csv");
        File.WriteAllText(snapshot, BreakLine().Replace(File.ReadAllText(snapshot), "break-detection,0020,1"));
        using (GuardChild guard = GuardChild.Start(_folder, site))
        {
            guard.AskUntilAccepted("reset");
            guard.Await("power proved off", s => guard.Ask("start").Message.Contains("settings of a device differ", StringComparison.Ordinal));
            Assert.Equal(ExitCode.Good, guard.Terminate());
        }

        Assert.Contains(JournalLines.LastRun(Path.Combine(site, "data")), static r => r["event"] == "settings-differ" && r["text"] == "n1-controller: settings differ from what was commissioned: break-detection is 0, was 1");
        CommandLine differs = CommandLine.Run("probe", "--site", site, "--device", "n1-controller", "--snapshot", "n1-settings.csv", "--rate", "50");
        Assert.Equal(ExitCode.Found, differs.ExitCode);
        Assert.Contains("differs: break-detection is 0, was 1", differs.Output, StringComparison.Ordinal);
    }

    private static CommandLine Probe(PlantChild plant, params string[] arguments) =>
        CommandLine.Run(["probe", string.Create(CultureInfo.InvariantCulture, $"127.0.0.1:{plant.Ports[0]}"), "--rate", "50", .. arguments]);

    private static void RemovePoints(string site, params string[] names)
    {
        string map = Path.Combine(site, "cabinet.csv");
        File.WriteAllLines(map, File.ReadAllLines(map).Where(l => !names.Any(n => l.StartsWith(n + ",", StringComparison.Ordinal))));
    }

    [GeneratedRegex(@"^  input 2 \(traditional 30003\): f32 ABCD = \d+(\.\d+)?\r?$", RegexOptions.Multiline, 1000)]
    private static partial Regex OutletMatch();

    [GeneratedRegex(@"^round trip \d+\.\d ms median, .* jitter \d+\.\d ms", RegexOptions.Multiline, 1000)]
    private static partial Regex RoundTrip();

    [GeneratedRegex(@"^break-detection,[0-9A-F]{4},\d+", RegexOptions.Multiline, 1000)]
    private static partial Regex BreakLine();
}
