using System.Diagnostics;
using System.Globalization;
using System.Text;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>Texts as in proc_pid_stat(5), and those that the kernel of this machine writes.</summary>
public sealed class ProcStatCodecTests
{
    // A program chooses its own name (comm, up to 15 bytes); this one imitates two states.
    private const string HostileName = "a) T 1 (b) t";
    private const int PatienceMs = 60_000;

    [Theory]
    [InlineData("32633 (cat) R 32630 32630 26580 0 -1 4194304 103", 'R')]
    [InlineData("7 (edgeguard) S 1 7 7 0 -1", 'S')]
    [InlineData("7 (edgeguard) T 1 7 7 0 -1", 'T')]
    [InlineData("7 (edgeguard) t 1 7 7 0 -1", 't')]
    [InlineData("7 (a b) T 1 7", 'T')]
    [InlineData("7 (x) T 1 (y) S 1 7", 'S')]
    [InlineData("7 () T 1) S 1 7", 'S')]
    [InlineData("7 (x) S 1 (y) T 1 7", 'T')]
    [InlineData("7 (((() T 1 7", 'T')]
    [InlineData("7 (\n) T\n) S 1 7", 'S')]
    [InlineData("7 () Z 1 7", 'Z')]
    public void The_state_is_the_letter_after_the_last_bracket(string stat, char state) =>
        Assert.Equal((byte)state, ProcStatCodec.StateOf(Encoding.Latin1.GetBytes(stat)));

    [Theory]
    [InlineData("")]
    [InlineData(")")]
    [InlineData("7 (edgeguard)")]
    [InlineData("7 (edgeguard) ")]
    [InlineData("7 (edgeguard) T")]
    [InlineData("7 (edgeguard) TT 1")]
    [InlineData("7 (edgeguard)T 1 7")]
    [InlineData("7 edgeguard T 1 7")]
    public void What_is_no_such_text_has_no_state(string stat) =>
        Assert.Equal(ProcStatCodec.Unknown, ProcStatCodec.StateOf(Encoding.Latin1.GetBytes(stat)));

    [Fact]
    public void The_kernels_own_text_of_a_process_with_a_hostile_name_is_read()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "the state of a process is told on Linux only");
        string folder = Directory.CreateTempSubdirectory("eg-").FullName;
        string program = Path.Combine(folder, HostileName);
        File.CreateSymbolicLink(program, "/bin/sleep");
        using Process child = Process.Start(program, "60");
        using var stat = new ProcFile(child.Id, "stat");
        try
        {
            Await(stat, (byte)'S');
            Assert.Contains(HostileName, Encoding.UTF8.GetString(stat.Read()), StringComparison.Ordinal);
            Signal("STOP", child.Id);
            Await(stat, ProcStatCodec.StoppedBySignal);
            Signal("CONT", child.Id);
            Await(stat, (byte)'S');
        }
        finally
        {
            child.Kill();
            child.WaitForExit();
            Directory.Delete(folder, recursive: true);
        }

        Assert.True(stat.Read().IsEmpty, "a process that is gone says nothing");
    }

    internal static void Signal(string signal, int process)
    {
        using Process kill = Process.Start("/bin/kill", ["-" + signal, process.ToString(CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
        Assert.Equal(0, kill.ExitCode);
    }

    internal static void Await(ProcFile stat, byte state) =>
        Assert.True(SpinWait.SpinUntil(() => ProcStatCodec.StateOf(stat.Read()) == state, PatienceMs), $"state {(char)state} did not come: {Encoding.UTF8.GetString(stat.Read())}");
}
