using System.Text.Json;
using System.Text.RegularExpressions;

namespace EdgeGuard.Architecture.Tests;

/// <summary>What the shipped service files promise to the guard (systemd.exec, systemd.resource-control: names of the settings).</summary>
public sealed partial class DeploymentTests
{
    [Fact]
    public void The_unit_hides_devices_and_gives_the_guard_its_folders()
    {
        Dictionary<string, List<string>> service = Settings("edgeguard.service");
        Assert.Equal(["yes"], service["PrivateDevices"]);
        Assert.Equal(["edgeguard"], service["StateDirectory"]);
        Assert.Equal(["edgeguard"], service["RuntimeDirectory"]); // /run/edgeguard, the ringFolder that the notes name
        Assert.Contains("\"ringFolder\": \"/run/edgeguard\"", Deploy("README.md"), StringComparison.Ordinal);
        Assert.Equal(["1"], service["LimitRTPRIO"]); // the scan thread's SCHED_FIFO
        Assert.Equal(["infinity"], service["LimitMEMLOCK"]);
        Assert.DoesNotContain("RestrictRealtime", service.Keys);
    }

    [Fact]
    public void The_drop_in_shows_the_guard_serial_ports_and_nothing_else()
    {
        Dictionary<string, List<string>> service = Settings("edgeguard-serial.conf");
        Assert.Equal(["no"], service["PrivateDevices"]);
        Assert.Equal(["closed"], service["DevicePolicy"]);
        Assert.Equal(["char-ttyS rw", "char-ttyUSB rw", "char-ttyACM rw"], service["DeviceAllow"]);
        Assert.Equal(["dialout"], service["SupplementaryGroups"]);
        Assert.Equal(4, service.Count);
        Assert.Contains("edgeguard-serial.conf", Deploy("README.md"), StringComparison.Ordinal);
    }

    [Fact]
    public void The_notes_name_only_keys_of_the_site_file_that_exist()
    {
        using JsonDocument schema = JsonDocument.Parse(File.ReadAllText(Path.Combine(RepoFolder.Root, "config", "site.schema.json")));
        JsonElement keys = schema.RootElement.GetProperty("properties");
        foreach (string file in new[] { "README.md", "edgeguard.service" })
        {
            string[] named = [.. KeyAndValue().Matches(Deploy(file)).Select(static m => m.Groups[1].Value)];
            Assert.NotEmpty(named);
            Assert.All(named, name => Assert.True(keys.TryGetProperty(name, out _), $"{file}: \"{name}\" is no key of the site file"));
        }
    }

    [GeneratedRegex("\"(\\w+)\":")]
    private static partial Regex KeyAndValue();

    private static string Deploy(string file) => File.ReadAllText(Path.Combine(RepoFolder.Root, "deploy", file));

    private static Dictionary<string, List<string>> Settings(string file)
    {
        var found = new Dictionary<string, List<string>>(StringComparer.Ordinal);
        bool isService = false;
        foreach (string line in Deploy(file).Split('\n'))
        {
            isService = line.StartsWith('[') ? line == "[Service]" : isService;
            int equals = line.IndexOf('=', StringComparison.Ordinal);
            if (isService && equals > 0 && !line.StartsWith('#'))
            {
                string key = line[..equals];
                found.TryAdd(key, []);
                found[key].Add(line[(equals + 1)..]);
            }
        }

        return found;
    }
}
