namespace EdgeGuard.OpcUa;

/// <summary>Shape of the value in a <see cref="Variant"/>.</summary>
public enum VariantShape : byte
{
    /// <summary>One value.</summary>
    Scalar = 0,

    /// <summary>One dimension.</summary>
    Array = 1,

    /// <summary>Two dimensions or more.</summary>
    Matrix = 2,
}
