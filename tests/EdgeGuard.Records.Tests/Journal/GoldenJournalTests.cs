using System.Diagnostics;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Records.Tests.Journal;

/// <summary>
/// The bytes of the journal are a promise to readers years from now: a fixed run gives the files in golden/, byte for
/// byte, and the commands printed in the documentation verify them with sha256sum of coreutils, which shares no code
/// with this program.
/// </summary>
public sealed class GoldenJournalTests
{
    private static readonly string Golden = RepoFolder.File("tests", "EdgeGuard.Records.Tests", "golden");

    [Fact]
    public void A_fixed_run_writes_the_golden_bytes()
    {
        using var folder = new TempFolder();
        WriteFixedRun(folder.Path);
        if (Environment.GetEnvironmentVariable("EDGEGUARD_WRITE_GOLDEN") is not null)
        {
            foreach (string name in Names)
            {
                File.Copy(folder.File(name), Path.Combine(Golden, name), overwrite: true);
            }
        }

        foreach (string name in Names)
        {
            Assert.Equal(File.ReadAllText(Path.Combine(Golden, name)), File.ReadAllText(folder.File(name)));
        }
    }

    [Trait("requirement", "JOUR-3")]
    [Fact]
    public void The_documented_commands_verify_it_and_find_each_kind_of_damage()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "needs sh and sha256sum");
        using var folder = new TempFolder();
        foreach (string name in Names)
        {
            File.Copy(Path.Combine(Golden, name), folder.File(name));
        }

        using var storage = new FileJournalStorage(folder.Path);
        JournalReport report = JournalVerifier.Verify(storage);
        Assert.Equal((0, $"good: {report.LastNumber} lines, last hash {report.LastHash}\n"), Run(folder.Path));

        string second = folder.File("journal-000002.log");
        byte[] good = File.ReadAllBytes(second);
        byte[] bad = [.. good];
        bad[good.AsSpan().IndexOf((byte)'\n') + 20] ^= 1;
        File.WriteAllBytes(second, bad);
        Assert.Equal((1, "journal-000002.log:2: hash differs\n"), Run(folder.Path));

        File.WriteAllBytes(second, good[..^1]);
        Assert.Equal(1, Run(folder.Path).Code);

        int lastLine = good.AsSpan(0, good.Length - 1).LastIndexOf((byte)'\n') + 1;
        File.WriteAllBytes(second, good[..lastLine]);
        (int code, string text) = Run(folder.Path);
        Assert.Equal(1, code);
        Assert.Contains($"the journal ends at {report.LastNumber - 1}", text, StringComparison.Ordinal);
    }

    [Trait("requirement", "JOUR-4")]
    [Fact]
    public void A_trip_line_says_function_value_limit_since_what_to_look_at_and_what_a_reset_needs()
    {
        string line = File.ReadLines(Path.Combine(Golden, "journal-000001.log")).First(l => l.Contains("\"event\":\"trip\"", StringComparison.Ordinal));
        Assert.Contains("\"unit\":\"N-1\",\"function\":\"FLOW\",\"value\":\"69.312 kg/h\",\"limit\":\"86.000 kg/h\",\"since\":\"2025-12-31T23:59:59.000Z (scan 990)\"", line, StringComparison.Ordinal);
        foreach (string part in (string[])["gas flow under its limit", "69.312 kg/h", "limit 86.000 kg/h", "since 2025-12-31T23:59:59.000Z", "Look at: blower", "A reset needs: the flow back over its limit as long as the heater is hot or its power not proved off; a cold heater needs none, its start proves the flow"])
        {
            Assert.Contains(part, JournalRecord.Parse(System.Text.Encoding.UTF8.GetBytes(line.Split('\t')[0]))!["text"], StringComparison.Ordinal);
        }
    }

    private static string[] Names => ["journal-000001.log", "journal-000002.log", "head"];

    private static void WriteFixedRun(string folder)
    {
        using var storage = new FileJournalStorage(folder);
        using var writer = new JournalWriter(storage, Sample.Run(segmentBytes: 10_000));
        var formatter = new GuardEventFormatter(["N-1", "A-1"], 100);
        writer.Open();
        writer.CommitLines();
        writer.CommitHead();
        long sequence = 0;
        foreach (EventId id in Enum.GetValues<EventId>())
        {
            GuardEvent e = Sample.Trip(++sequence);
            e.Id = id;
            e.Detail = id is EventId.Trip or EventId.WouldTrip or EventId.Consequence ? 990 : id is >= EventId.ForceBegun and < EventId.ForcedDemand ? (long)Core.Signals.SignalRole.GasFlow + (15 << 8) : 2;
            e.Reason = id == EventId.RequestRefused ? RefusalReason.CauseStillPresent : RefusalReason.None;
            e.Unit = id == EventId.RampHeld ? -1 : 0;
            writer.Append(formatter.Format(e));
            writer.CommitLines();
            writer.CommitHead();
        }

        foreach (FunctionId function in Enum.GetValues<FunctionId>()[1..])
        {
            GuardEvent e = Sample.Trip(++sequence);
            e.Function = function;
            e.Value = function == FunctionId.Sens ? 3 : double.NaN;
            writer.Append(formatter.Format(e));
        }

        writer.Append(new JournalEntry { Id = (int)ShellEventId.RequestReceived, UtcUnixMs = Sample.Utc, Unit = "A-1", Person = "shift (1000)", Reason = "tab\there, \"quoted\" \\ and °C", Detail = 7 });
        writer.Append(new JournalEntry { Id = (int)ShellEventId.CleanStop, UtcUnixMs = Sample.Utc });
        writer.CommitLines();
        writer.CommitHead();
    }

    private static (int Code, string Text) Run(string folder)
    {
        string doc = File.ReadAllText(RepoFolder.File("docs", "reference", "journal-format.md"));
        string script = doc.Split("```sh\n")[1].Split("```")[0];
        var start = new ProcessStartInfo("sh") { WorkingDirectory = folder, UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true };
        start.ArgumentList.Add("-c");
        start.ArgumentList.Add(script);
        using Process process = Process.Start(start)!;
        string text = process.StandardOutput.ReadToEnd();
        string error = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Assert.Equal(string.Empty, error);
        return (process.ExitCode, text);
    }
}
