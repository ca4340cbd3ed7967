namespace EdgeGuard.Core.Tests.Thermal;

/// <summary>Rows of a file in tests/vectors, without comment lines and without the header.</summary>
internal static class Vectors
{
    public static IEnumerable<string[]> Rows(string file) =>
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "vectors", file))
            .Where(line => line.Length > 0 && line[0] != '#')
            .Skip(1)
            .Select(line => line.Split(','));
}
