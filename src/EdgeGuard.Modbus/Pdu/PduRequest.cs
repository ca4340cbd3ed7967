namespace EdgeGuard.Modbus.Pdu;

/// <summary>A decoded request; <see cref="Data"/> points into the bytes it was decoded from.</summary>
public readonly ref struct PduRequest
{
    /// <summary>Builds a request.</summary>
    /// <param name="function">The function.</param>
    /// <param name="address">Zero-based protocol address of the first item; 0 where the function has none.</param>
    /// <param name="quantity">Count of items; 1 for functions 05, 06 and 22, 0 where the function has none.</param>
    /// <param name="data">Values of a write as on the wire; empty for reads.</param>
    /// <param name="writeAddress">Function 23: first register of its write.</param>
    public PduRequest(FunctionCode function, ushort address, int quantity, ReadOnlySpan<byte> data, ushort writeAddress = 0)
    {
        Function = function;
        Address = address;
        Quantity = quantity;
        Data = data;
        WriteAddress = writeAddress;
    }

    /// <summary>The function.</summary>
    public FunctionCode Function { get; }

    /// <summary>Zero-based protocol address of the first item (function 23: of the read).</summary>
    public ushort Address { get; }

    /// <summary>Count of items; 1 for functions 05, 06 and 22 (function 23: of the read).</summary>
    public int Quantity { get; }

    /// <summary>Function 23: zero-based protocol address of the first register written.</summary>
    public ushort WriteAddress { get; }

    /// <summary>
    /// Values of a write as on the wire (big-endian registers or packed bits); empty for reads. Function 08: the bytes to
    /// return; 22: the two masks; 43: the access and the object id.
    /// </summary>
    public ReadOnlySpan<byte> Data { get; }
}
