namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>The two numbers at the front of a chunk's secured part (OPC 10000-6, 6.7.2.4).</summary>
internal readonly record struct SequenceHeader(uint SequenceNumber, uint RequestId)
{
    public const int HeaderBytes = 8;
}
