using System.Globalization;

namespace EdgeGuard.Acceptance.Tests.Rigs;

/// <summary>How busy the machine is, for messages of tests that measure time.</summary>
internal static class MachineLoad
{
    /// <summary>Processes that want to run against cores, over the last minute.</summary>
    public static string Now()
    {
        const string File = "/proc/loadavg";
        string load = System.IO.File.Exists(File) ? System.IO.File.ReadAllText(File).Split(' ')[0] : "unknown";
        return string.Create(CultureInfo.InvariantCulture, $"load {load} on {Environment.ProcessorCount} cores");
    }
}
