namespace EdgeGuard.Core.Signals;

/// <summary>
/// Raw words of one poll block → one value with status. Decides whether an interlock may rely on a reading, so
/// every doubt ends in a status that is not good: words that cannot be a number of the configured type and order,
/// a value outside its plausible range, a sentinel, a reading older than its limit, a table that does not fit the
/// block. It never throws and allocates nothing.
/// </summary>
/// <remarks>
/// A failed request alone does not spoil a reading; only age does, so that one lost answer within the staleness
/// limit is no demand. A swapped word order usually shows as a subnormal number: 1100.0 read with its words
/// exchanged is 2.5e-41, which a comparison would take for "cold". Subnormals are therefore refused as such. Where the
/// low word is not zero its upper bits become the exponent, and about half of all patterns are normal numbers next to
/// nothing: so a temperature nearer to 0 °C than any sensor resolves is refused too, unless it is exactly 0.
/// </remarks>
public static class SignalDecoder
{
    /// <summary>The finest step of a temperature input, K, with a wide margin. Other quantities decay to nothing in truth.</summary>
    private const double FinestTemperature = 1e-3;

    /// <summary>Decodes one signal.</summary>
    /// <param name="table">Where the words are and what they mean.</param>
    /// <param name="block">The poll block named by <see cref="SignalTable.Block"/>.</param>
    /// <returns>Value and status; the value is 0 whenever the status is bad.</returns>
    public static SignalValue Decode(SignalTable table, in RawBlock block)
    {
        if (table is null)
        {
            return Bad(StatusCode.BadConfigurationError, block.AgeMs);
        }

        if (block.Result == ReadResult.NeverRead || block.AgeMs == int.MaxValue)
        {
            return Bad(StatusCode.BadWaitingForInitialData, int.MaxValue);
        }

        uint age = StatusOfAge(table, block);
        if (!StatusCode.IsGood(age) && age != StatusCode.UncertainNoCommunicationLastUsableValue)
        {
            return Bad(age, block.AgeMs);
        }

        uint status = DecodeWords(table, block.Words, out double value);
        return StatusCode.IsGood(status) ? Known(value, age, block.AgeMs) : Bad(status, block.AgeMs);
    }

    /// <summary>A bad value of a given status: 0, known to be bad.</summary>
    internal static SignalValue Bad(uint status, int ageMs) => Known(0, status, ageMs);

    private static SignalValue Known(double value, uint status, int ageMs) =>
        new() { Value = value, Status = status, AgeMs = ageMs, Known = true };

    /// <summary>Staging of a lost link: good, then last usable value, then nothing.</summary>
    private static uint StatusOfAge(SignalTable table, in RawBlock block)
    {
        if (block.AgeMs < 0)
        {
            return StatusCode.Bad; // An age before its own scan is no age: the shell is wrong.
        }

        if (block.AgeMs <= table.StaleMs)
        {
            return StatusCode.Good;
        }

        if (block.AgeMs <= table.HoldMs)
        {
            return StatusCode.UncertainNoCommunicationLastUsableValue;
        }

        return block.Result is ReadResult.DeviceException or ReadResult.BadAnswer
            ? StatusCode.BadCommunicationError
            : StatusCode.BadNoCommunication;
    }

    private static uint DecodeWords(SignalTable table, ushort[]? words, out double value)
    {
        value = 0;
        if (!TryRaw(table, words, out double raw) || !double.IsFinite(raw) || table.Scale == 0)
        {
            return StatusCode.BadConfigurationError;
        }

        if (IsNextToNothing(table, raw))
        {
            return StatusCode.BadConfigurationError;
        }

        if (IsSentinel(table, raw))
        {
            return StatusCode.BadSensorFailure;
        }

        double scaled = (raw * table.Scale) + table.Offset;
        if (!double.IsFinite(scaled))
        {
            return StatusCode.BadConfigurationError;
        }

        // Written so that a range with NaN in it refuses everything.
        if (!(scaled >= table.RangeMin && scaled <= table.RangeMax))
        {
            return StatusCode.BadSensorFailure;
        }

        value = scaled;
        return StatusCode.Good;
    }

    private static bool IsNextToNothing(SignalTable table, double raw) =>
        table.Type is WordType.Float32 or WordType.Float64 && raw != 0 && Math.Abs(raw) < FinestTemperature
        && table.Role is SignalRole.ElementTemperature or SignalRole.ElementTemperature2 or SignalRole.ElementTemperature3
            or SignalRole.OutletTemperature or SignalRole.OutletTemperature2 or SignalRole.OutletTemperature3 or SignalRole.InletTemperature;

    private static bool IsSentinel(SignalTable table, double raw) =>
        raw == table.Sentinel || (table.Type == WordType.Float32 && raw == (float)table.Sentinel);

    private static bool TryRaw(SignalTable table, ushort[]? words, out double raw)
    {
        raw = 0;
        int offset = table.WordOffset;
        return words is not null && offset >= 0 && offset < words.Length
            && WordDecoder.TryDecode(words.AsSpan(offset), table.Type, table.Order, table.Bit, table.BitCount, out raw);
    }
}
