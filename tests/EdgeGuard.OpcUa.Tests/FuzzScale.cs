using System.Globalization;

namespace EdgeGuard.OpcUa.Tests;

/// <summary>Number of fuzz inputs: the check's own, or that times EDGEGUARD_FUZZ_FACTOR in a long run.</summary>
internal static class FuzzScale
{
    public static int Of(int count) => count * Factor();

    /// <summary>Says how many inputs a test has given to decoders, in the words that tests/long opcua-fuzz adds up.</summary>
    public static void Tell(long inputs, string family) =>
        TestContext.Current.TestOutputHelper!.WriteLine(string.Create(CultureInfo.InvariantCulture, $"fuzzed: {inputs} inputs, {family}"));

    private static int Factor()
    {
        string? text = Environment.GetEnvironmentVariable("EDGEGUARD_FUZZ_FACTOR");
        return text is null ? 1 : int.Parse(text, NumberStyles.None, CultureInfo.InvariantCulture);
    }
}
