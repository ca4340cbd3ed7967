using Xunit.Sdk;
using Xunit.v3;

namespace EdgeGuard.Acceptance.Tests;

/// <summary>
/// The tests that take longest begin first, or the last of them would run alone at the end. How long is no matter of
/// correctness: a name that is not here comes after those that are, in the order of names.
/// </summary>
public sealed class LongestFirst : ITestCollectionOrderer
{
    private static readonly string[] Longest = ["DemoTests", "AllocationTests", "ServedDemoTests", "KillTests", "PoweredCoolDownTests", "ModelBandPlantTests", "ShortedLegTests", "FaultReactionTests", "NativeBinaryTests"];

    public IReadOnlyCollection<TTestCollection> OrderTestCollections<TTestCollection>(IReadOnlyCollection<TTestCollection> testCollections)
        where TTestCollection : ITestCollection =>
        [.. testCollections.OrderBy(static c => Rank(c.TestCollectionDisplayName)).ThenBy(static c => c.TestCollectionDisplayName, StringComparer.Ordinal)];

    private static int Rank(string name)
    {
        int at = Array.FindIndex(Longest, l => name.Contains("." + l, StringComparison.Ordinal));
        return at < 0 ? Longest.Length : at;
    }
}
