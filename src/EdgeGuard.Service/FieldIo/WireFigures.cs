using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Puts what a link counts on the wire in the place of the figure of the same name. The names are the table: a counter of the
/// engine without a figure ends each start of the guard, and so each of its tests, with a message that names it.
/// </summary>
internal static class WireFigures
{
    private static readonly int[] Places = Array.ConvertAll(Enum.GetNames<LinkCounter>(), PlaceOf);

    public static void CopyTo(LinkCounters counters, Span<long> figures)
    {
        for (int i = 0; i < Places.Length; i++)
        {
            figures[Places[i]] = counters[(LinkCounter)i];
        }
    }

    private static int PlaceOf(string name) => Enum.TryParse(name, out LinkFigure figure)
        ? (int)figure
        : throw new InvalidOperationException($"the counter {name} of the Modbus engine has no figure of that name in {nameof(LinkFigure)}: add it there and to {nameof(LinkFigureTexts)}");
}
