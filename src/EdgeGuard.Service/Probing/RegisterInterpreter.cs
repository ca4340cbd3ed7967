using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Probing;

/// <summary>
/// Reads registers in every way a device may mean them. Nothing is guessed silently: what is plausible is a rule that
/// stands here, and a known value decides better than any rule.
/// </summary>
public static class RegisterInterpreter
{
    // A reading of a plant lies within these; a swapped order mostly gives 1e-40 or 1e30.
    private const double SmallestPlausible = 1e-4;
    private const double LargestPlausible = 1e7;

    /// <summary>The orders of a value of more than one register.</summary>
    public static IReadOnlyList<WordOrder> Orders { get; } = [WordOrder.Abcd, WordOrder.Cdab, WordOrder.Badc, WordOrder.Dcba];

    private static readonly WordType[] OneWord = [WordType.UInt16, WordType.Int16, WordType.Bcd16];

    private static readonly WordType[] Wide =
        [WordType.Float32, WordType.UInt32, WordType.Int32, WordType.Bcd32, WordType.Float64, WordType.UInt64, WordType.Int64];

    // Integers often stand for tenths, hundredths or thousandths, a power sometimes for tens of watts.
    private static readonly double[] Scales = [1, 0.1, 0.01, 0.001, 10];

    /// <summary>The number at an address; false when the registers are no number of the type, or were not all read.</summary>
    public static bool TryRead(RegisterSheet sheet, int address, WordType type, WordOrder order, out double value)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        value = 0;
        int count = WordTypes.WordCount(type);
        Span<ushort> words = stackalloc ushort[4];
        for (int i = 0; i < count; i++)
        {
            if (!sheet.TryGet(address + i, out words[i]))
            {
                return false;
            }
        }

        return WordDecoder.TryDecode(words[..count], type, order, 0, 1, out value);
    }

    /// <summary>A floating-point number that a plant could mean: zero, or of a usual size.</summary>
    public static bool IsPlausible(double value) =>
        value == 0 || Math.Abs(value) is >= SmallestPlausible and <= LargestPlausible;

    /// <summary>Every way to read any register of the sheet as a number within a distance of the expected one; the simplest first.</summary>
    public static IReadOnlyList<Interpretation> Matches(RegisterSheet sheet, double expected, double within)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var found = new List<Interpretation>();
        for (int address = sheet.First; address < sheet.First + sheet.Count; address++)
        {
            foreach (WordType type in OneWord)
            {
                AddScaled(found, sheet, address, type, WordOrder.None, expected, within);
            }

            foreach (WordType type in Wide)
            {
                foreach (WordOrder order in Orders)
                {
                    AddScaled(found, sheet, address, type, order, expected, within);
                }
            }
        }

        return [.. found.OrderBy(i => i.Scale == 1 ? 0 : 1).ThenBy(i => i.WordCount).ThenBy(i => i.Address).ThenBy(i => i.Type).ThenBy(i => i.Order)];
    }

    private static void AddScaled(List<Interpretation> found, RegisterSheet sheet, int address, WordType type, WordOrder order, double expected, double within)
    {
        if (!TryRead(sheet, address, type, order, out double raw) || IsRepeated(sheet, address, type, order, raw))
        {
            return;
        }

        bool real = type is WordType.Float32 or WordType.Float64;
        foreach (double scale in Scales)
        {
            double value = raw * scale;
            if (Math.Abs(value - expected) <= within && (!real || scale == 1))
            {
                found.Add(new Interpretation(address, type, order, scale, value));
                return;
            }
        }
    }

    /// <summary>A signed type says nothing new where the unsigned one gives the same number, nor a decimal one where it is small.</summary>
    private static bool IsRepeated(RegisterSheet sheet, int address, WordType type, WordOrder order, double raw)
    {
        WordType plain = type switch
        {
            WordType.Int16 or WordType.Bcd16 => WordType.UInt16,
            WordType.Int32 or WordType.Bcd32 => WordType.UInt32,
            WordType.Int64 => WordType.UInt64,
            _ => WordType.None,
        };
        return plain != WordType.None && TryRead(sheet, address, plain, order, out double other) && other == raw;
    }
}
