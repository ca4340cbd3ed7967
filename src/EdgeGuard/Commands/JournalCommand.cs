using System.CommandLine;
using System.Globalization;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Commands;

/// <summary>
/// `edgeguard journal show|verify FOLDER`: reads the journal, never changes it, and works beside a running guard.
/// FOLDER is a site folder, its data folder or the journal folder.
/// </summary>
internal static class JournalCommand
{
    // A running guard may be caught between two writes; a real torn tail is still there after this time.
    private const int SecondLookMs = 300;
    private const int FindingsShown = 50;

    public static Command Create() => new("journal", "Show or verify the journal. Example: edgeguard journal verify site")
    {
        Show(),
        Verify(),
    };

    private static Command Show()
    {
        var folder = new Argument<string>("FOLDER") { Description = "Site, data or journal folder." };
        var unit = new Option<string?>("--unit") { Description = "Only entries of this unit." };
        var name = new Option<string?>("--event") { Description = "Only entries of this event, for example trip." };
        var from = new Option<long?>("--from") { Description = "Only entries from this line number on." };
        var since = new Option<string?>("--since") { Description = "Only entries from this time on, UTC, for example 2026-01-31T14:05:00Z; a day alone is its beginning." };
        var until = new Option<string?>("--until") { Description = "Only entries before this time, UTC." };
        var json = new Option<bool>("--json") { Description = "One JSON object a line, as it stands in the journal." };
        var command = new Command("show", "Print the journal. Example: edgeguard journal show site --unit N-1") { folder, unit, name, from, since, until, json };
        command.SetAction(parsed => Guarded(parsed.GetRequiredValue(folder), (storage, site) =>
        {
            var filter = new JournalFilter
            {
                Unit = parsed.GetValue(unit),
                Event = parsed.GetValue(name),
                From = parsed.GetValue(from),
                Since = parsed.GetValue(since),
                Until = parsed.GetValue(until),
                SiteUnits = [.. site?.Table.Units.Select(static u => u.Name) ?? []],
            };
            return ShowLines(storage, filter, parsed.GetValue(json), Console.Out, Console.Error);
        }));
        return command;
    }

    private static Command Verify()
    {
        var folder = new Argument<string>("FOLDER") { Description = "Site, data or journal folder." };
        var command = new Command("verify", "Recompute every hash and compare with the head. Example: edgeguard journal verify site") { folder };
        command.SetAction(parsed => Guarded(parsed.GetRequiredValue(folder), static (storage, _) => VerifyAll(storage)));
        return command;
    }

    private static int Guarded(string folder, Func<FileJournalStorage, SiteConfiguration?, int> action)
    {
        try
        {
            // The data folder that the site states, and no other: an older one may still lie in `data`.
            SiteConfiguration? site = File.Exists(Path.Combine(folder, ExampleFiles.SiteFile)) ? SiteLoader.Load(folder).Site : null;
            string place = site?.DataFolder ?? folder;
            if (JournalReader.Find(place) is not { } found)
            {
                Console.Error.WriteLine(site is not null
                    ? $"{place}: no journal yet: no guard has run on this site; expected journal/ in its data folder; start one with: edgeguard run {folder}"
                    : $"{place}: no journal found; expected journal-000001.log or head in it, in journal/ or in data/journal/; try the site folder, or the data folder it states");
                return ExitCode.BadData;
            }

            using var storage = new FileJournalStorage(found);
            return action(storage, site);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or InvalidDataException)
        {
            Console.Error.WriteLine($"{folder}: the journal cannot be read: {e.Message}");
            return ExitCode.BadData;
        }
    }

    /// <summary>Prints the entries that fit; a filter that can fit nothing is a wrong command line.</summary>
    internal static int ShowLines(FileJournalStorage storage, JournalFilter filter, bool json, TextWriter output, TextWriter errors)
    {
        if (filter.WhatIsWrong() is { } wrong)
        {
            errors.WriteLine($"edgeguard: {wrong}");
            return ExitCode.Usage;
        }

        int code = ExitCode.Good;
        bool any = false;
        foreach ((string file, int line, JournalRecord? record) in JournalReader.Read(storage))
        {
            if (record is null)
            {
                errors.WriteLine($"{file}:{line}: not a line of the journal; try: edgeguard journal verify");
                code = ExitCode.Found;
            }
            else if (filter.Fits(record))
            {
                any = true;
                output.WriteLine(json ? record.Body : Plain(record));
            }
        }

        if (!any && filter.WhyNothing() is { } why)
        {
            errors.WriteLine($"edgeguard: {why.Words}");
            code = Math.Max(code, why.Code);
        }

        return code;
    }

    private static string Plain(JournalRecord record)
    {
        string words = record["text"] ?? Joined(record["function"], record["value"], record["limit"], record["reason"]);
        string person = record["person"] is { } name ? $" [{name}{(record["text"] is not null && record["reason"] is { } why ? ": " + why : string.Empty)}]" : string.Empty;
        return string.Create(CultureInfo.InvariantCulture, $"{record.Number,6}  {record["utc"]}  {record["unit"] ?? "-",-8}  {record["event"],-20}  {Printable(words + person)}").TrimEnd();
    }

    private static string Joined(params string?[] parts) => string.Join(", ", parts.Where(p => !string.IsNullOrEmpty(p)));

    // Texts of requests come from people: nothing of them may steer a terminal.
    private static string Printable(string text) => string.Create(text.Length, text, static (span, source) =>
    {
        for (int i = 0; i < span.Length; i++)
        {
            span[i] = char.IsControl(source[i]) ? ' ' : source[i];
        }
    });

    private static int VerifyAll(FileJournalStorage storage)
    {
        JournalReport report = JournalVerifier.Verify(storage);
        if (report.TornBytes > 0)
        {
            Thread.Sleep(SecondLookMs);
            report = JournalVerifier.Verify(storage);
        }

        foreach (JournalFinding finding in report.Findings.Take(FindingsShown))
        {
            Console.WriteLine(finding);
        }

        if (report.Findings.Count > FindingsShown)
        {
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"… and {report.Findings.Count - FindingsShown} more"));
        }

        string verdict = report.IsWhole ? "good" : Counted.Of(report.Findings.Count, "finding");
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{verdict}: {Counted.Of(report.LineCount, "line")} in {Counted.Of(report.SegmentCount, "segment")}, last n {report.LastNumber}, last hash {report.LastHash}"));
        return report.IsWhole ? ExitCode.Good : ExitCode.Found;
    }
}
