namespace EdgeGuard.Service.Requests;

/// <summary>Numbers for JSON, which knows neither not-a-number nor infinity.</summary>
internal static class Finite
{
    public static double? OrNull(double value) => double.IsFinite(value) ? value : null;
}
