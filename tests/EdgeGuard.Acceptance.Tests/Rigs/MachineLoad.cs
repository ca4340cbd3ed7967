using System.Globalization;

namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>How busy the machine is, for messages of tests that measure time.</summary>
internal static class MachineLoad
{
    private const string File = "/proc/loadavg";
    private const int OverwhelmedPerCore = 8;

    /// <summary>True when so many processes want each core that a limit of seconds says nothing of the program.</summary>
    public static bool IsOverwhelmed => System.IO.File.Exists(File)
        && double.Parse(System.IO.File.ReadAllText(File).Split(' ')[0], CultureInfo.InvariantCulture) > OverwhelmedPerCore * Environment.ProcessorCount;

    /// <summary>Processes that want to run against cores, over the last minute.</summary>
    public static string Now()
    {
        string load = System.IO.File.Exists(File) ? System.IO.File.ReadAllText(File).Split(' ')[0] : "unknown";
        return string.Create(CultureInfo.InvariantCulture, $"load {load} on {Environment.ProcessorCount} cores");
    }
}
