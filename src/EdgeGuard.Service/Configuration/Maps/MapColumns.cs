namespace EdgeGuard.Service.Configuration.Maps;

/// <summary>Columns of a register map, in the order of the header.</summary>
internal static class MapColumns
{
    public const int Name = 0;
    public const int Role = 1;
    public const int Table = 2;
    public const int Address = 3;
    public const int Type = 4;
    public const int Order = 5;
    public const int Bit = 6;
    public const int Scale = 7;
    public const int Offset = 8;
    public const int Unit = 9;
    public const int Min = 10;
    public const int Max = 11;
    public const int Sentinel = 12;
    public const int Access = 13;
    public const int Volatile = 14;
    public const int Every = 15;

    public static readonly IReadOnlyList<string> Names =
    [
        "name", "role", "table", "address", "type", "order", "bit", "scale", "offset", "unit", "min", "max", "sentinel", "access", "volatile",
    ];

    /// <summary>A column a map may leave out.</summary>
    public const string Optional = "every";

    public static string Header => string.Join(',', Names);
}
