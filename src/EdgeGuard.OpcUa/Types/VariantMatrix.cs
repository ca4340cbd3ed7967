namespace EdgeGuard.OpcUa;

/// <summary>Elements and dimensions of an array with more than one dimension, in row-major order.</summary>
internal sealed class VariantMatrix(Array elements, int[] dimensions)
{
    public Array Elements { get; } = elements;

    public int[] Dimensions { get; } = dimensions;
}
