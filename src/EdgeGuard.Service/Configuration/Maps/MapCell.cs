namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>One trimmed cell of a register map with its place.</summary>
internal readonly record struct MapCell(string Text, TextPosition At)
{
    public bool IsEmpty => Text.Length == 0 || string.Equals(Text, "-", StringComparison.Ordinal);
}
