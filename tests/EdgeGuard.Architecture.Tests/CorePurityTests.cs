using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using EdgeGuard.Core;

namespace EdgeGuard.Architecture.Tests;

/// <summary>
/// The analyzer with banned symbols sees calls; this reads the compiled core and sees every type it mentions at all.
/// </summary>
public sealed class CorePurityTests
{
    private static readonly string[] BannedNamespaces = ["System.IO", "System.Net", "System.Threading", "System.Linq", "System.Diagnostics.Process", "System.Security", "System.Text.Json", "Microsoft"];

    private static readonly string[] BannedTypes =
    [
        "System.DateTime", "System.DateTimeOffset", "System.TimeProvider", "System.Random", "System.Guid", "System.HashCode", "System.Environment",
        "System.Console", "System.Diagnostics.Stopwatch", "System.Activator", "System.GC", "System.Runtime.InteropServices.GCHandle",
    ];

    [Trait("requirement", "PURE-2")]
    [Fact]
    public void Core_mentions_no_type_with_io_clock_threads_or_randomness()
    {
        using var stream = File.OpenRead(typeof(Guard).Assembly.Location);
        using var pe = new PEReader(stream);
        MetadataReader reader = pe.GetMetadataReader();
        var mentioned = reader.TypeReferences.Select(reader.GetTypeReference)
            .Select(t => reader.GetString(t.Namespace) + "." + reader.GetString(t.Name)).ToArray();
        Assert.NotEmpty(mentioned);
        Assert.DoesNotContain(mentioned, IsBanned);
    }

    [Fact]
    public void Core_references_only_the_framework()
    {
        foreach (var name in typeof(Guard).Assembly.GetReferencedAssemblies())
        {
            Assert.StartsWith("System.", name.Name, StringComparison.Ordinal);
        }
    }

    private static bool IsBanned(string type) =>
        BannedTypes.Contains(type, StringComparer.Ordinal) || Array.Exists(BannedNamespaces, n => type.StartsWith(n + ".", StringComparison.Ordinal));
}
