using System.Globalization;
using System.Text.RegularExpressions;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>Our server and clients of other hands: mbpoll and libmodbus in C, pymodbus, and jsmodbus of npm.</summary>
public sealed partial class ForeignClientTests
{
    // What the scripts print for the values of PeerDevice; 0x17 and the masks of V1.1b3, 6.16, on register 25 = 0x19.
    private const string Common =
        "01 1 0 0 1|02 0 1 0|03 20 21 22|04 1030 1031 1032|05 ok|06 ok|0F ok|10 ok|";

    private readonly PeerDevice _device = new();

    [Theory]
    [InlineData("tcp")]
    [InlineData("rtu-tcp")]
    [InlineData("serial")]
    public void Every_function_of_pymodbus_is_served(string transport)
    {
        using ForeignClientRig rig = new(_device, transport);
        string output = Run(PeerPaths.Python, PeerPaths.Script("modbus_client.py"), transport, rig.Where);
        Assert.Equal(
            Common + "16 ok|17 777 48879 1 65535 24 21 48879|07 109|08 42295|2B 0=EdgeGuard 1=peer device 2=1.0|01 0 1 0 1|03 exception 2",
            output.Replace("True", "1", StringComparison.Ordinal).Replace("False", "0", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("tcp")]
    [InlineData("serial")]
    public void Every_function_of_libmodbus_is_served(string transport)
    {
        using ForeignClientRig rig = new(_device, transport);
        string output = transport == "tcp"
            ? Run(PeerPaths.LibModbus, "client-tcp", rig.Where, "1")
            : Run(PeerPaths.LibModbus, "client-rtu", rig.Where, "19200", "1");
        Assert.Equal(Common + "16 ok|17 777 48879 1 65535 24 21 48879|01 0 1 0 1|03 failed: Illegal data address", output);
    }

    [Fact]
    public void Every_function_of_jsmodbus_is_served_and_many_requests_at_once()
    {
        using ForeignClientRig rig = new(_device, "tcp");
        Environment.SetEnvironmentVariable("NODE_PATH", PeerPaths.NodeModules);
        string output = Run("node", PeerPaths.Script("modbus_client.js"), rig.Where);
        Assert.Equal(Common + "01 0 1 0 1|03 777 48879 1 65535|many true|03 exception 2", output);
    }

    [Theory]
    [InlineData("tcp")]
    [InlineData("serial")]
    public void Mbpoll_reads_every_table(string transport)
    {
        using ForeignClientRig rig = new(_device, transport);
        Assert.Equal([5, 6, 7, 8], Values(Poll(rig, "-t", "4", "-r", "5", "-c", "4", "-1")));
        Assert.Equal([1005, 1006], Values(Poll(rig, "-t", "3", "-r", "5", "-c", "2", "-1")));
        Assert.Equal([0, 1, 0, 0, 1], Values(Poll(rig, "-t", "0", "-r", "2", "-c", "5", "-1")));
        Assert.Equal([1, 0, 0, 0, 0, 1], Values(Poll(rig, "-t", "1", "-r", "10", "-c", "6", "-1")));
    }

    [Theory]
    [InlineData("tcp")]
    [InlineData("serial")]
    public void Mbpoll_writes_one_and_many_registers_and_coils(string transport)
    {
        using ForeignClientRig rig = new(_device, transport);
        Poll(rig, "-t", "4", "-r", "3", "--", "777");
        Poll(rig, "-t", "4", "-r", "8", "--", "1", "2", "65535");
        Poll(rig, "-t", "0", "-r", "4", "--", "1");
        Poll(rig, "-t", "0", "-r", "8", "--", "1", "0", "1");

        Assert.Equal((777, 1, 2, 65535), (_device.HoldingRegisters[3], _device.HoldingRegisters[8], _device.HoldingRegisters[9], _device.HoldingRegisters[10]));
        Assert.Equal([true, true, false, true, false, true, false, true], _device.Coils[3..11]);
    }

    [Fact]
    public void A_float_with_the_high_word_first_is_read_as_that_float()
    {
        using ForeignClientRig rig = new(_device, "tcp");
        (_device.InputRegisters[20], _device.InputRegisters[21]) = (0x4489, 0x8000); // 1100.0 as IEEE 754 single, word order ABCD
        Assert.Equal([1100], Values(Poll(rig, "-t", "3:float", "-B", "-r", "20", "-c", "1", "-1")));
    }

    [Fact]
    public void Mbpoll_is_told_the_exception_in_its_own_words()
    {
        using ForeignClientRig rig = new(_device, "tcp");
        (int exitCode, string output) = Mbpoll(rig, "1", "-t", "4", "-r", "199", "-c", "2", "-1");
        Assert.NotEqual(0, exitCode);
        Assert.Contains("Illegal data address", output, StringComparison.Ordinal);
        (_, output) = Mbpoll(rig, "9", "-t", "4", "-r", "0", "-c", "1", "-1");
        Assert.Contains("Gateway path unavailable", output, StringComparison.OrdinalIgnoreCase);
    }

    private static string Run(string file, params string[] arguments)
    {
        (int exitCode, string output) = PeerProcess.Run(file, arguments);
        Assert.True(exitCode == 0, output);
        return output.TrimEnd().ReplaceLineEndings("|");
    }

    private static string Poll(ForeignClientRig rig, params string[] arguments)
    {
        (int exitCode, string output) = Mbpoll(rig, "1", arguments);
        Assert.True(exitCode == 0, output);
        return output;
    }

    private static (int ExitCode, string Output) Mbpoll(ForeignClientRig rig, string unit, params string[] arguments)
    {
        // Options, address, then values behind "--".
        int values = Array.IndexOf(arguments, "--");
        string[] options = values < 0 ? arguments : arguments[..values];
        string[] tail = values < 0 ? [] : arguments[values..];
        string[] line = rig.IsSerial ? ["-m", "rtu", "-b", "19200", "-P", "even"] : ["-m", "tcp", "-p", rig.Where];
        return PeerProcess.Run("mbpoll", [.. line, "-a", unit, "-0", "-o", "5", .. options, rig.IsSerial ? rig.Where : "127.0.0.1", .. tail]);
    }

    private static int[] Values(string output) =>
        [.. ValueLine().Matches(output).Select(m => int.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture))];

    [GeneratedRegex(@"^\[\d+\]:\s+(-?\d+)", RegexOptions.Multiline)]
    private static partial Regex ValueLine();
}
