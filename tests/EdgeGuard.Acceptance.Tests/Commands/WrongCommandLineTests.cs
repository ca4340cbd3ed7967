using EdgeGuard.Acceptance.Tests.Rigs;

namespace EdgeGuard.Acceptance.Tests.Commands;

/// <summary>A wrong command line ends with 64 and says what is wrong with it; never with a trace of the program.</summary>
public sealed class WrongCommandLineTests
{
    [Theory]
    [InlineData("unknown command; found \"chek\"; expected one of init, check, ", "chek", "site")]
    [InlineData("argument 2 is empty", "check", "")]
    [InlineData("argument 3 is empty", "journal", "verify", "")]
    [InlineData("argument 3 is empty", "status", "--site", "")]
    [InlineData("for option '--units'; expected a whole number", "init", "site", "--units", "x")]
    [InlineData("for option '--power'; expected a number", "calc", "rating", "--connection", "star", "--volts", "400", "--power", "x")]
    [InlineData("a command is missing; expected one of init, check, ")]
    [InlineData("a command is missing; expected one of show, verify\nTry: edgeguard journal --help", "journal")]
    [InlineData("for option '--mode'; expected one of enforce, observe\nTry: edgeguard demo --help", "demo", "--mode", "foo")]
    [InlineData("'pdf' not recognized; expected one of text, csv, html\n", "check", "site", "--matrix", "pdf")]
    [InlineData("Try: edgeguard journal show --help", "journal", "show")]
    [InlineData("--port: found 99999; expected 0 to 65535", "publish", "site", "--port", "99999")]
    [InlineData("--bind: found \"here\"; expected an IP address", "publish", "site", "--bind", "here")]
    [InlineData("--json, --matrix, --against: found more than one", "check", "site", "--json", "--matrix", "csv")]
    public void A_wrong_command_line_is_told_in_words(string words, params string[] arguments)
    {
        CommandLine command = CommandLine.Run(arguments);
        Assert.Equal(ExitCode.Usage, command.ExitCode);
        Assert.Contains(words, command.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("one of the following", command.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("System.", command.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", command.Errors, StringComparison.Ordinal);
    }
}
