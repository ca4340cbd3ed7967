using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Tests.Corpus;

/// <summary>Gives bytes to the decoder that a file's name says.</summary>
internal static class ValueReader
{
    /// <summary>The status of the reader; BadDecodingError too when bytes are left over.</summary>
    public static StatusCode Read(string type, ReadOnlySpan<byte> bytes, UaLimits limits)
    {
        switch (type)
        {
            case "Request":
                return ServiceMessage.TryReadRequest(bytes, limits, out _, out _);
            case "Response":
                return ServiceMessage.TryReadResponse(bytes, limits, out _);
            default:
                var reader = new UaReader(bytes, limits);
                Take(type, ref reader);
                return reader.Failed ? reader.Status : reader.Remaining == 0 ? StatusCode.Good : StatusCode.BadDecodingError;
        }
    }

    private static void Take(string type, ref UaReader reader)
    {
        switch (type)
        {
            case "String":
                reader.ReadString();
                break;
            case "NodeId":
                reader.ReadNodeId();
                break;
            case "ExpandedNodeId":
                reader.ReadExpandedNodeId();
                break;
            case "Variant":
                reader.ReadVariant();
                break;
            case "DataValue":
                reader.ReadDataValue();
                break;
            case "ExtensionObject":
                reader.ReadExtensionObject();
                break;
            case "DiagnosticInfo":
                reader.ReadDiagnosticInfo();
                break;
            case "LocalizedText":
                reader.ReadLocalizedText();
                break;
            default:
                throw new ArgumentException($"no decoder for {type}", nameof(type));
        }
    }
}
