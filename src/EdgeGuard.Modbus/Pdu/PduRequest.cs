namespace EdgeGuard.Modbus.Pdu;

/// <summary>A decoded request; <see cref="Data"/> points into the bytes it was decoded from.</summary>
public readonly ref struct PduRequest
{
    /// <summary>Builds a request.</summary>
    /// <param name="function">The function.</param>
    /// <param name="address">Zero-based protocol address of the first item.</param>
    /// <param name="quantity">Count of items; 1 for functions 05 and 06.</param>
    /// <param name="data">Values of a write as on the wire; empty for reads.</param>
    public PduRequest(FunctionCode function, ushort address, int quantity, ReadOnlySpan<byte> data)
    {
        Function = function;
        Address = address;
        Quantity = quantity;
        Data = data;
    }

    /// <summary>The function.</summary>
    public FunctionCode Function { get; }

    /// <summary>Zero-based protocol address of the first item.</summary>
    public ushort Address { get; }

    /// <summary>Count of items; 1 for functions 05 and 06.</summary>
    public int Quantity { get; }

    /// <summary>Values of a write as on the wire (big-endian registers or packed bits); empty for reads.</summary>
    public ReadOnlySpan<byte> Data { get; }
}
