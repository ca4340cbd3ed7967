namespace EdgeGuard.Core.Signals;

/// <summary>
/// Binary-coded decimal: one digit in four bits, most significant digit first (8-4-2-1 code). A nibble above 9 is no
/// digit, so the whole pattern is no number: a swapped order or a plain integer shows there sooner or later.
/// </summary>
internal static class BcdCodec
{
    private const int NibbleBits = 4;

    /// <summary>Reads a pattern of <paramref name="digits"/> digits. False when a nibble is above 9.</summary>
    public static bool TryRead(ulong bits, int digits, out double number)
    {
        number = 0;
        long whole = 0;
        for (int i = digits - 1; i >= 0; i--)
        {
            var digit = (long)((bits >> (NibbleBits * i)) & 0xF);
            if (digit > 9)
            {
                return false;
            }

            whole = (whole * 10) + digit;
        }

        number = whole;
        return true;
    }

    /// <summary>The pattern of a whole number that was checked to fit.</summary>
    public static ulong Write(long whole, int digits)
    {
        ulong bits = 0;
        for (int i = 0; i < digits; i++)
        {
            bits |= (ulong)(whole % 10) << (NibbleBits * i);
            whole /= 10;
        }

        return bits;
    }
}
