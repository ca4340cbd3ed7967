using System.Globalization;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Probing;

namespace EdgeGuard.Commands;

/// <summary>
/// Takes the settings of a device and writes them as the file that the guard compares with, or, where the site names such
/// a file already, says what differs. A snapshot with a setting that could not be read is never written.
/// </summary>
internal static class SnapshotTask
{
    public static int Run(SiteConfiguration site, DeviceOptions device, string folder, string file, bool force, double requestsPerSecond)
    {
        if (device.Settings.Count == 0)
        {
            return ProbeCommand.Complain($"{device.Name}: its map names no setting; expected points with role \"setting\"; try to give the registers of input type, range, filter, burn-out, ramp, output limit and watchdog time that role", ExitCode.Usage);
        }

        if (!file.EndsWith(".csv", StringComparison.Ordinal) || !file[..^4].All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_'))
        {
            return ProbeCommand.Complain($"--snapshot: found '{file}'; expected the name of a .csv file of letters, digits, - and _ without a path; try --snapshot {device.Name}-settings.csv", ExitCode.Usage);
        }

        using IModbusLink link = LinkBuilder.Build(site.Links[device.LinkIndex]);
        SettingsSnapshot snapshot = SettingsSnapshot.Take(link, device, site.Links[device.LinkIndex], () => Thread.Sleep(TimeSpan.FromSeconds(1 / Math.Max(0.1, requestsPerSecond))));
        foreach ((SettingPoint point, ushort[] words) in snapshot.Read)
        {
            Console.Out.WriteLine($"{point.Name}: {point.Reading(words)}");
        }

        if (snapshot.Failed.Count > 0)
        {
            foreach ((SettingPoint point, ModbusResult result) in snapshot.Failed)
            {
                string why = result.Outcome == ModbusOutcome.DeviceException ? string.Create(CultureInfo.InvariantCulture, $"exception {(int)result.Exception:X2}") : result.Outcome.ToString();
                ProbeCommand.Complain($"{point.Name}: could not be read ({why})", ExitCode.Unavailable);
            }

            return ProbeCommand.Complain("nothing was written, since a snapshot must hold every setting", ExitCode.Unavailable);
        }

        return Finish(snapshot, device, Path.Combine(folder, file), file, force);
    }

    private static int Finish(SettingsSnapshot snapshot, DeviceOptions device, string path, string file, bool force)
    {
        if (device.SettingsBlock >= 0 && !force)
        {
            IReadOnlyList<string> differences = snapshot.Differences();
            foreach (string difference in differences)
            {
                Console.Out.WriteLine("differs: " + difference);
            }

            Console.Out.WriteLine(differences.Count == 0 ? "all settings as commissioned" : $"{Counted.Of(differences.Count, "setting differs", "settings differ")}; commission anew, then --force replaces the snapshot");
            return differences.Count == 0 ? ExitCode.Good : ExitCode.Found;
        }

        if (!ProbeCommand.TryWrite(path, force, w => snapshot.Write(device.Name, TimeProvider.System.GetUtcNow().UtcDateTime, w)))
        {
            return ExitCode.Unavailable;
        }

        Console.Out.WriteLine($"compare it at each connect with: \"settings\": \"{file}\" in the entry \"{device.Name}\" of \"devices\"");
        return ExitCode.Good;
    }
}
