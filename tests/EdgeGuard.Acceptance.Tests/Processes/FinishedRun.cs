using EdgeGuard.Acceptance.Tests.Guarding;

namespace EdgeGuard.Acceptance.Tests.Processes;

/// <summary>Journal and head of a conducted run that heated, tripped and was stopped.</summary>
public sealed class FinishedRun
{
    public FinishedRun()
    {
        using var rig = new GuardRig(conducted: true);
        ConductedRunTests.Heat(rig);
        rig.Plant.Ask("fault blower-stop N-1");
        rig.ScanUntil(static u => ConductedRunTests.State(u) == "Tripped", 100);
        rig.Guard.Tell("stop");
        Assert.True(rig.Guard.WaitForExit(GuardRig.PatienceMs));
        Lines = Split(File.ReadAllBytes(Path.Combine(rig.Data, "journal", "journal-000001.log")));
        Head = File.ReadAllBytes(Path.Combine(rig.Data, "journal", "head"));
    }

    /// <summary>The lines, each with its line feed.</summary>
    public byte[][] Lines { get; }

    public byte[] Head { get; }

    private static byte[][] Split(byte[] all)
    {
        var lines = new List<byte[]>();
        for (int from = 0, end; from < all.Length; from = end)
        {
            end = Array.IndexOf(all, (byte)'\n', from) + 1;
            lines.Add(all[from..end]);
        }

        return [.. lines];
    }
}
