namespace EdgeGuard.Modbus.Framing;

/// <summary>A decoded Modbus TCP frame; <see cref="Pdu"/> points into the bytes it was decoded from.</summary>
public readonly ref struct MbapFrame
{
    /// <summary>Builds a frame.</summary>
    /// <param name="transactionId">Transaction identifier.</param>
    /// <param name="unitId">Unit identifier.</param>
    /// <param name="pdu">The PDU, 1 to 253 bytes.</param>
    public MbapFrame(ushort transactionId, byte unitId, ReadOnlySpan<byte> pdu)
    {
        TransactionId = transactionId;
        UnitId = unitId;
        Pdu = pdu;
    }

    /// <summary>Transaction identifier, chosen by the client and repeated by the server.</summary>
    public ushort TransactionId { get; }

    /// <summary>Unit identifier of the device behind the connection.</summary>
    public byte UnitId { get; }

    /// <summary>The PDU, 1 to 253 bytes.</summary>
    public ReadOnlySpan<byte> Pdu { get; }

    /// <summary>Bytes of the whole frame, header included.</summary>
    public int FrameLength => MbapCodec.HeaderLength + Pdu.Length;
}
