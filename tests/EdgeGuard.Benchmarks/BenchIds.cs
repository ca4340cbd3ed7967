using System.Globalization;
using EdgeGuard.OpcUa;

namespace EdgeGuard.Benchmarks;

/// <summary>Names of the variables: text identifiers of the same length on every server.</summary>
internal static class BenchIds
{
    /// <summary>Namespace of the variables on our server.</summary>
    public const ushort OwnNamespace = 2;

    /// <summary>Namespace of the variables on the npm server.</summary>
    public const ushort NodeNamespace = 1;

    public static string Text(int index) => string.Create(CultureInfo.InvariantCulture, $"bench/v{index:D5}");

    public static NodeId Of(ushort namespaceIndex, int index) => new(namespaceIndex, Text(index));
}
