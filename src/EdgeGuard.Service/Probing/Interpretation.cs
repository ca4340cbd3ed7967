using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Probing;

/// <summary>One way to read registers as a number.</summary>
/// <param name="Address">Zero-based protocol address of the first register.</param>
/// <param name="Type">Type of the number.</param>
/// <param name="Order">Order of registers and bytes; None for one register.</param>
/// <param name="Scale">Factor from the raw number to the value.</param>
/// <param name="Value">The value.</param>
public readonly record struct Interpretation(int Address, WordType Type, WordOrder Order, double Scale, double Value)
{
    /// <summary>Registers it takes.</summary>
    public int WordCount => WordTypes.WordCount(Type);
}
