namespace EdgeGuard.Records.Kept;

/// <summary>One line of a kept file after the other, for writing and for reading alike: so both know the same lines in the same order.</summary>
internal interface IKeptFields
{
    /// <summary>Rest of the line as text.</summary>
    string Text(string key, string value);

    /// <summary>A point of time.</summary>
    long Time(string key, long utcMs);

    /// <summary>A whole number from 0 to <paramref name="most"/>.</summary>
    long Whole(string key, long value, long most);

    /// <summary>A number, finite and within bounds; NaN stands as "-" where it may.</summary>
    double Number(string key, double value, double least, double most, bool mayBeNone = false);
}
