namespace EdgeGuard.OpcUa;

/// <summary>
/// A UTC time in 100 ns since 1601-01-01 (OPC 10000-6, 5.2.2.5). Values before 1601 are clamped to 0, which also stands
/// for "no time"; values from 9999-12-31T23:59:59Z on are the largest 64-bit number.
/// </summary>
public readonly struct UaDateTime : IEquatable<UaDateTime>, IComparable<UaDateTime>
{
    // Ticks of 1601-01-01 since 0001-01-01, from the proleptic Gregorian calendar.
    private const long EpochTicks = 504_911_232_000_000_000;
    private static readonly long LatestTicks = new DateTime(9999, 12, 31, 23, 59, 59, DateTimeKind.Utc).Ticks - EpochTicks;

    private readonly long _ticks;

    /// <summary>Clamps what is outside the range of the standard.</summary>
    /// <param name="ticks">100 ns since 1601-01-01 UTC.</param>
    public UaDateTime(long ticks)
    {
        _ticks = ticks <= 0 ? 0 : ticks >= LatestTicks ? long.MaxValue : ticks;
    }

    /// <summary>100 ns since 1601-01-01 UTC.</summary>
    public long Ticks => _ticks;

    /// <summary>Whether no time is given.</summary>
    public bool IsNull => _ticks == 0;

    /// <summary>Converts from UTC; an unspecified kind is taken as UTC.</summary>
    public static UaDateTime FromUtc(DateTime utc) => new(utc.Ticks - EpochTicks);

    /// <summary>Converts from milliseconds since 1970-01-01 UTC, clamped.</summary>
    public static UaDateTime FromUnixMs(long unixMs) => new((Math.Clamp(unixMs, -100_000_000_000_000, 300_000_000_000_000) * 10_000) + 116_444_736_000_000_000);

    /// <summary>Converts to UTC, clamped to the range of <see cref="DateTime"/>.</summary>
    public DateTime ToUtc() => _ticks == 0 ? DateTime.MinValue : _ticks == long.MaxValue ? DateTime.MaxValue : new DateTime(_ticks + EpochTicks, DateTimeKind.Utc);

    /// <inheritdoc/>
    public bool Equals(UaDateTime other) => _ticks == other._ticks;

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is UaDateTime other && Equals(other);

    /// <inheritdoc/>
    public override int GetHashCode() => _ticks.GetHashCode();

    /// <inheritdoc/>
    public int CompareTo(UaDateTime other) => _ticks.CompareTo(other._ticks);

    /// <inheritdoc/>
    public override string ToString() => ToUtc().ToString("O", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>Equality.</summary>
    public static bool operator ==(UaDateTime left, UaDateTime right) => left._ticks == right._ticks;

    /// <summary>Inequality.</summary>
    public static bool operator !=(UaDateTime left, UaDateTime right) => left._ticks != right._ticks;

    /// <summary>Earlier than.</summary>
    public static bool operator <(UaDateTime left, UaDateTime right) => left._ticks < right._ticks;

    /// <summary>Later than.</summary>
    public static bool operator >(UaDateTime left, UaDateTime right) => left._ticks > right._ticks;

    /// <summary>Not later than.</summary>
    public static bool operator <=(UaDateTime left, UaDateTime right) => left._ticks <= right._ticks;

    /// <summary>Not earlier than.</summary>
    public static bool operator >=(UaDateTime left, UaDateTime right) => left._ticks >= right._ticks;
}
