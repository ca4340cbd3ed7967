using System.Globalization;
using EdgeGuard.Service.Configuration.Json;
using EdgeGuard.Service.Configuration.Maps;
using EdgeGuard.Service.Configuration.Schema;

namespace EdgeGuard.Service.Configuration;

/// <summary>Judges one value against its key: kind, finiteness, range, choice.</summary>
internal static class ValueCheck
{
    /// <summary>What is wrong with the value, as the opening words of a message; null when it is right.</summary>
    public static string? WhatIsWrong(KeySpec key, SiteNode value, int longestText) => key.Kind switch
    {
        KeyKind.Text => TextFault(value, longestText),
        KeyKind.Number => NumberFault(key, value, whole: false),
        KeyKind.Integer => NumberFault(key, value, whole: true),
        KeyKind.Flag => value.Kind == SiteNodeKind.Flag ? null : "wrong kind of value",
        KeyKind.Choice => ChoiceFault(key, value),
        KeyKind.Date => DateFault(value),
        KeyKind.Section => value.Kind == SiteNodeKind.Group ? null : "wrong kind of value",
        _ => ListFault(key, value),
    };

    public static string Advice(KeySpec key, SiteNode value)
    {
        if (value.Kind == SiteNodeKind.Text && key.Kind is KeyKind.Number or KeyKind.Integer)
        {
            bool parses = double.TryParse(value.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number);
            return parses && double.IsFinite(number) ? $"{value.Text.Trim()} without quotation marks" : Example(key);
        }

        // A fraction of a millisecond, or less than the key takes, is a time in seconds; to round it would propose no delay at all.
        if (value.Kind == SiteNodeKind.Number && (Math.Floor(value.Number) < value.Number || value.Number < key.Min)
            && MeantInSeconds(key, value.Number) is { } seconds)
        {
            return seconds;
        }

        // Where the file must state a limit of the plant, no figure is proposed: somebody would take it.
        if (!key.Required && value.Kind == SiteNodeKind.Number && key.Kind is KeyKind.Number or KeyKind.Integer && double.IsFinite(value.Number))
        {
            double nearest = Math.Clamp(value.Number, key.Min, key.Max);
            return key.Kind == KeyKind.Integer ? $"{Math.Round(nearest)}" : $"{nearest}";
        }

        return Example(key);
    }

    /// <summary>The choice that is meant by another word for it, in quotes; null when none is known.</summary>
    public static string? MeantChoice(KeySpec key, string text) =>
        GasNames.Meant(text) is { } gas && key.Choices.Contains(gas, StringComparer.Ordinal) ? Quoted.Of(gas) : null;

    /// <summary>What to write if a time in ms was taken for one in seconds; null where the key is no such time or would not take it.</summary>
    public static string? MeantInSeconds(KeySpec key, double number)
    {
        bool fits = number > 0 && number * 1_000 >= key.Min && number * 1_000 <= key.Max;
        return fits && key.Name.EndsWith("Ms", StringComparison.Ordinal)
            ? string.Create(CultureInfo.InvariantCulture, $"{Math.Round(number * 1_000)}, if seconds were meant: the key takes ms")
            : null;
    }

    /// <summary>What one could write at the key, shown as key and value.</summary>
    public static string Example(KeySpec key) => key.Kind switch
    {
        KeyKind.Number or KeyKind.Integer when !double.IsNaN(key.Default) => $"\"{key.Name}\": {key.Default}",
        KeyKind.Number or KeyKind.Integer => $"\"{key.Name}\" with the value for this plant",
        KeyKind.Flag => $"\"{key.Name}\": false",
        KeyKind.Choice when key.Required => $"\"{key.Name}\" with what fits this plant",
        KeyKind.Choice => $"\"{key.Name}\": \"{key.Choices[0]}\"",
        KeyKind.Date => $"\"{key.Name}\": \"2027-12-31\"",
        KeyKind.Section => $"\"{key.Name}\": {{ … }}",
        KeyKind.Sections => $"\"{key.Name}\": [ {{ … }} ]",
        _ => $"\"{key.Name}\": \"…\"",
    };

    private static string? TextFault(SiteNode value, int longestText)
    {
        if (value.Kind != SiteNodeKind.Text)
        {
            return "wrong kind of value";
        }

        if (value.Text.Length > longestText)
        {
            return $"text of more than {longestText} characters";
        }

        return string.IsNullOrWhiteSpace(value.Text) || value.Text.Any(char.IsControl) ? "empty or unprintable text" : null;
    }

    private static string? NumberFault(KeySpec key, SiteNode value, bool whole)
    {
        if (value.Kind != SiteNodeKind.Number)
        {
            return "wrong kind of value";
        }

        if (!double.IsFinite(value.Number))
        {
            return "not a finite number";
        }

        if (value.Number < key.Min || value.Number > key.Max)
        {
            return "value out of range";
        }

        return whole && Math.Floor(value.Number) < value.Number ? "not a whole number" : null;
    }

    private static string? ChoiceFault(KeySpec key, SiteNode value)
    {
        if (value.Kind != SiteNodeKind.Text)
        {
            return "wrong kind of value";
        }

        return key.Choices.Contains(value.Text, StringComparer.Ordinal) ? null : "unknown value";
    }

    private static string? DateFault(SiteNode value)
    {
        if (value.Kind != SiteNodeKind.Text)
        {
            return "wrong kind of value";
        }

        bool parses = DateOnly.TryParseExact(value.Text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _);
        return parses ? null : "not a date";
    }

    private static string? ListFault(KeySpec key, SiteNode value)
    {
        if (value.Kind != SiteNodeKind.List)
        {
            return "wrong kind of value";
        }

        return value.Items.Count < 1 || value.Items.Count > key.Max ? "wrong number of entries" : null;
    }
}
