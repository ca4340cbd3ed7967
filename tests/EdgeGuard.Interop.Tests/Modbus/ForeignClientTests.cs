using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using EdgeGuard.Modbus.Server;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Interop.Tests.Modbus;

/// <summary>Our server and a client of other hands (Debian package mbpoll, which stands on libmodbus).</summary>
public sealed partial class ForeignClientTests : IDisposable
{
    private readonly PeerDevice _device = new();
    private readonly TcpModbusServer _server;

    public ForeignClientTests()
    {
        _server = new TcpModbusServer(new IPEndPoint(IPAddress.Loopback, 0), new Dictionary<byte, IModbusDevice> { [1] = _device });
        _server.Start();
    }

    public void Dispose() => _server.Dispose();

    [Theory]
    [InlineData("3")]
    [InlineData("4")]
    public void A_foreign_client_reads_registers(string table)
    {
        for (int i = 0; i < 100; i++)
        {
            _device.Words[i] = (ushort)(i * 7);
        }

        Assert.Equal([35, 42, 49, 56], Values(Poll("-t", table, "-r", "5", "-c", "4", "-1")));
    }

    [Theory]
    [InlineData("0")]
    [InlineData("1")]
    public void A_foreign_client_reads_bits(string table)
    {
        _device.Bits[10] = true;
        _device.Bits[19] = true;
        Assert.Equal([1, 0, 0, 0, 0, 0, 0, 0, 0, 1, 0], Values(Poll("-t", table, "-r", "10", "-c", "11", "-1")));
    }

    [Fact]
    public void A_foreign_client_writes_one_and_many_registers_and_coils()
    {
        Poll("-t", "4", "-r", "3", "--", "777");
        Poll("-t", "4", "-r", "8", "--", "1", "2", "65535");
        Poll("-t", "0", "-r", "3", "--", "1");
        Poll("-t", "0", "-r", "8", "--", "1", "0", "1");

        Assert.Equal((777, 1, 2, 65535), (_device.Words[3], _device.Words[8], _device.Words[9], _device.Words[10]));
        Assert.Equal([true, false, false, false, false, true, false, true], _device.Bits[3..11]);
    }

    [Fact]
    public void A_float_with_the_high_word_first_is_read_as_that_float()
    {
        (_device.Words[20], _device.Words[21]) = (0x4489, 0x8000); // 1100.0 as IEEE 754 single, word order ABCD
        Assert.Equal([1100], Values(Poll("-t", "3:float", "-B", "-r", "20", "-c", "1", "-1")));
    }

    [Fact]
    public void A_foreign_client_is_told_the_exception_in_its_own_words()
    {
        (int exitCode, string output) = Run("1", "-t", "4", "-r", "99", "-c", "2", "-1");
        Assert.NotEqual(0, exitCode);
        Assert.Contains("Illegal data address", output, StringComparison.Ordinal);
        (_, output) = Run("9", "-t", "4", "-r", "0", "-c", "1", "-1");
        Assert.Contains("Gateway path unavailable", output, StringComparison.OrdinalIgnoreCase);
    }

    private string Poll(params string[] arguments)
    {
        (int exitCode, string output) = Run("1", arguments);
        Assert.True(exitCode == 0, output);
        return output;
    }

    private (int ExitCode, string Output) Run(string unit, params string[] arguments)
    {
        // Options, address, then values behind "--".
        int values = Array.IndexOf(arguments, "--");
        string[] options = values < 0 ? arguments : arguments[..values];
        string[] tail = values < 0 ? [] : arguments[values..];
        string port = _server.Port.ToString(CultureInfo.InvariantCulture);
        return PeerProcess.Run("mbpoll", ["-m", "tcp", "-p", port, "-a", unit, "-0", "-o", "5", .. options, "127.0.0.1", .. tail]);
    }

    private static int[] Values(string output) =>
        [.. ValueLine().Matches(output).Select(m => int.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture))];

    [GeneratedRegex(@"^\[\d+\]:\s+(-?\d+)", RegexOptions.Multiline)]
    private static partial Regex ValueLine();
}
