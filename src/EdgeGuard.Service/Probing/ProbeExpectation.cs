namespace EdgeGuard.Service.Probing;

/// <summary>A value known from elsewhere, as a display at the cabinet shows it.</summary>
/// <param name="Value">The value.</param>
/// <param name="Within">Largest distance that still counts as the same.</param>
public readonly record struct ProbeExpectation(double Value, double Within);
