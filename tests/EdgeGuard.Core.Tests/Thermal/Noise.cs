namespace EdgeGuard.Core.Tests.Thermal;

/// <summary>Readings that scatter.</summary>
internal static class Noise
{
    /// <summary>A normal number of mean 0 and standard deviation 1, after Box and Muller.</summary>
    public static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
