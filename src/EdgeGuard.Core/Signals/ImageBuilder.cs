using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Core.Signals;

/// <summary>
/// Fills the image of one unit from the words of a scan. Every role is written on every scan, the ones that are
/// not configured too, so that no value of an earlier scan can survive. A role configured twice has no value at
/// all: guessing which of two is meant is not for an interlock.
/// </summary>
public static class ImageBuilder
{
    /// <summary>Decodes all signals of a unit; allocates nothing.</summary>
    /// <param name="unit">Configuration of the unit.</param>
    /// <param name="scan">Words, outcomes and ages.</param>
    /// <param name="image">Overwritten completely.</param>
    public static void Build(UnitTable unit, RawScan scan, ScanImage image)
    {
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentNullException.ThrowIfNull(scan);
        ArgumentNullException.ThrowIfNull(image);
        for (int role = 0; role < SignalRoles.Count; role++)
        {
            image[(SignalRole)role] = default;
        }

        IReadOnlyList<SignalTable> signals = unit.Signals;
        for (int i = 0; i < signals.Count; i++)
        {
            Fill(signals[i], scan, image);
        }

        for (int role = 0; role < SignalRoles.Count; role++)
        {
            ref SignalValue value = ref image[(SignalRole)role];
            if (!value.Known)
            {
                value = SignalDecoder.Bad(StatusCode.BadNotConnected, int.MaxValue);
            }
        }
    }

    private static void Fill(SignalTable table, RawScan scan, ScanImage image)
    {
        if ((int)table.Role >= SignalRoles.Count)
        {
            return; // No such place in the image; the configuration check names it.
        }

        ref SignalValue value = ref image[table.Role];
        bool usable = !value.Known && table.Block >= 0 && table.Block < scan.Blocks.Length;
        value = usable
            ? SignalDecoder.Decode(table, scan.Blocks[table.Block])
            : SignalDecoder.Bad(StatusCode.BadConfigurationError, int.MaxValue);
    }
}
