using System.Buffers.Binary;
using System.Text;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Records.Ring;

/// <summary>
/// The name tables of a ring: texts of UTF-8 with a 16-bit length before each, in the order site, units, signal roles,
/// function codes, command roles, unit states, links, figures of a link; then one byte per unit with its mode.
/// </summary>
internal static class RingNames
{
    public static byte[] ToBytes(SiteTable site, IReadOnlyList<string> links)
    {
        using var bytes = new MemoryStream();
        Add(bytes, site.Name);
        foreach (UnitTable unit in site.Units)
        {
            Add(bytes, unit.Name);
        }

        AddAll(bytes, Enum.GetNames<SignalRole>());
        for (int id = 0; id < FunctionIds.Count; id++)
        {
            Add(bytes, FunctionTexts.Of((FunctionId)id).Code);
        }

        AddAll(bytes, Enum.GetNames<CommandRole>());
        AddAll(bytes, Enum.GetNames<UnitState>());
        AddAll(bytes, links);
        AddAll(bytes, Enum.GetNames<LinkFigure>());
        foreach (UnitTable unit in site.Units)
        {
            bytes.WriteByte((byte)unit.Mode);
        }

        return bytes.ToArray();
    }

    /// <summary>Takes one text off the front.</summary>
    /// <exception cref="InvalidDataException">The table is cut short.</exception>
    public static string Take(ref ReadOnlySpan<byte> names)
    {
        if (names.Length < sizeof(ushort))
        {
            throw new InvalidDataException("the name table ends early");
        }

        int length = BinaryPrimitives.ReadUInt16LittleEndian(names);
        if (names.Length - sizeof(ushort) < length)
        {
            throw new InvalidDataException("the name table ends early");
        }

        string name = Encoding.UTF8.GetString(names.Slice(sizeof(ushort), length));
        names = names[(sizeof(ushort) + length)..];
        return name;
    }

    /// <summary>Takes a number of texts off the front.</summary>
    public static string[] TakeMany(ref ReadOnlySpan<byte> names, int count)
    {
        string[] taken = new string[count];
        for (int i = 0; i < count; i++)
        {
            taken[i] = Take(ref names);
        }

        return taken;
    }

    private static void AddAll(MemoryStream bytes, IReadOnlyList<string> names)
    {
        foreach (string name in names)
        {
            Add(bytes, name);
        }
    }

    private static void Add(MemoryStream bytes, string name)
    {
        byte[] text = Encoding.UTF8.GetBytes(name);
        Span<byte> length = stackalloc byte[sizeof(ushort)];
        BinaryPrimitives.WriteUInt16LittleEndian(length, (ushort)text.Length);
        bytes.Write(length);
        bytes.Write(text);
    }
}
