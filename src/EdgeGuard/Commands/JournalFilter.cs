using System.Globalization;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Commands;

// A filter that can fit nothing is a slip of the person who typed it, and no answer would be read as "nothing happened",
// which is the worst thing a journal can say by mistake. So a name that the journal does not know and times in the wrong
// order are refused like any other wrong command line; a filter that is right and fits nothing is told as just that.

/// <summary>Which entries of a journal are asked for, and what of the filters cannot be meant.</summary>
internal sealed record JournalFilter
{
    private static readonly string[] TimeForms = ["yyyy-MM-dd", "yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm'Z'", "yyyy-MM-dd'T'HH:mm:ss", "yyyy-MM-dd'T'HH:mm:ss'Z'", "yyyy-MM-dd'T'HH:mm:ss.fff", "yyyy-MM-dd'T'HH:mm:ss.fff'Z'"];

    private readonly SortedSet<string> _units = new(StringComparer.Ordinal);
    private readonly SortedSet<string> _events = new(StringComparer.Ordinal);
    private DateTime _since = DateTime.MinValue;
    private DateTime _until = DateTime.MaxValue;
    private long _lastNumber;

    /// <summary>Name of a unit; null for all entries.</summary>
    public string? Unit { get; init; }

    /// <summary>Name of an event; null for all.</summary>
    public string? Event { get; init; }

    /// <summary>First line number; null for the first there is.</summary>
    public long? From { get; init; }

    /// <summary>UTC from which on; null for the beginning.</summary>
    public string? Since { get; init; }

    /// <summary>UTC before which; null for the end.</summary>
    public string? Until { get; init; }

    /// <summary>Units that the site of the journal has, beside those that stand in it.</summary>
    public IReadOnlyList<string> SiteUnits { get; init; } = [];

    private bool IsSet => Unit is not null || Event is not null || From is not null || Since is not null || Until is not null;

    /// <summary>What is wrong with the filters before any entry was read; null when nothing is. To be called first.</summary>
    public string? WhatIsWrong()
    {
        if (From is < 1)
        {
            return $"--from: found {From}; expected a line number from 1 on; try --from 1";
        }

        if ((Wrong("--since", Since, ref _since) ?? Wrong("--until", Until, ref _until)) is { } wrong)
        {
            return wrong;
        }

        return _since < _until ? null : $"--since, --until: found {Since} to {Until}; expected --since before --until, both UTC; try to exchange the two";
    }

    /// <summary>Whether an entry is asked for; remembers what the journal knows.</summary>
    public bool Fits(JournalRecord record)
    {
        _lastNumber = Math.Max(_lastNumber, record.Number);
        if (record["unit"] is { } unit)
        {
            _units.Add(unit);
        }

        if (record["event"] is { } name)
        {
            _events.Add(name);
        }

        return record.Number >= (From ?? 0)
            && (Unit is null || string.Equals(record["unit"], Unit, StringComparison.Ordinal))
            && (Event is null || string.Equals(record["event"], Event, StringComparison.Ordinal))
            && FitsTime(record["utc"]);
    }

    /// <summary>What to tell when no entry fitted, with the exit code; null when an empty journal was shown whole.</summary>
    public (int Code, string Words)? WhyNothing()
    {
        if (Unit is not null && !_units.Contains(Unit) && !SiteUnits.Contains(Unit, StringComparer.Ordinal))
        {
            string[] known = [.. _units.Union(SiteUnits, StringComparer.Ordinal).Order(StringComparer.Ordinal)];
            return (ExitCode.Usage, $"--unit: found \"{Unit}\"; expected {(known.Length == 0 ? "no --unit, for no entry of this journal names one" : "one of " + string.Join(", ", known))}; try a name as it stands in the site file");
        }

        if (Event is not null && !_events.Contains(Event) && !EventRegistry.All.Values.Contains(Event, StringComparer.Ordinal))
        {
            return (ExitCode.Usage, $"--event: found \"{Event}\"; expected a name of docs/reference/event-ids.csv; try one that stands in this journal: {string.Join(", ", _events)}");
        }

        return IsSet ? (ExitCode.Good, $"no entry fits; the journal ends at line {_lastNumber}") : null;
    }

    // A time beyond the calendar stands as a plain number and is no moment to compare.
    private bool FitsTime(string? utc)
    {
        if (Since is null && Until is null)
        {
            return true;
        }

        return TryParse(utc, out DateTime time) && time >= _since && time < _until;
    }

    private static string? Wrong(string option, string? text, ref DateTime time)
    {
        if (text is null || TryParse(text, out time))
        {
            return null;
        }

        return $"{option}: found \"{text}\"; expected a time in UTC as the journal prints it; try {option} 2026-01-31 or {option} 2026-01-31T14:05:00Z";
    }

    private static bool TryParse(string? text, out DateTime time) =>
        DateTime.TryParseExact(text, TimeForms, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out time);
}
