using EdgeGuard.Modbus;

namespace EdgeGuard.Service.Probing;

/// <summary>Registers of one range as they were read; some may have been refused.</summary>
public sealed class RegisterSheet
{
    private readonly ushort?[] _words;
    private readonly bool[] _changed;

    /// <summary>An empty sheet.</summary>
    public RegisterSheet(ModbusTable table, int first, int count)
    {
        Table = table;
        First = first;
        _words = new ushort?[count];
        _changed = new bool[count];
    }

    /// <summary>Table that was read.</summary>
    public ModbusTable Table { get; }

    /// <summary>First zero-based protocol address.</summary>
    public int First { get; }

    /// <summary>Number of registers.</summary>
    public int Count => _words.Length;

    /// <summary>Registers that were read.</summary>
    public int Known => _words.Count(w => w is not null);

    /// <summary>The register at an address; false when it lies outside or was not read.</summary>
    public bool TryGet(int address, out ushort word)
    {
        int i = address - First;
        ushort? found = i >= 0 && i < _words.Length ? _words[i] : null;
        word = found ?? 0;
        return found is not null;
    }

    /// <summary>True when the register had different values in different rounds.</summary>
    public bool HasChanged(int address) => _changed[address - First];

    /// <summary>Puts a register that was read; a second, different value marks it as changing.</summary>
    public void Put(int address, ushort word)
    {
        int i = address - First;
        _changed[i] |= _words[i] is { } before && before != word;
        _words[i] = word;
    }
}
