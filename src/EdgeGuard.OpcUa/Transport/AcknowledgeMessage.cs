namespace EdgeGuard.OpcUa.Transport;

/// <summary>ACK: what the server grants (OPC 10000-6, 7.1.2.4); always 28 bytes on the wire.</summary>
/// <param name="ProtocolVersion">Version of UA-TCP, 0.</param>
/// <param name="ReceiveBufferBytes">Largest chunk the server can receive; never above what the client sends.</param>
/// <param name="SendBufferBytes">Largest chunk the server will send; never above what the client can receive.</param>
/// <param name="MessageBytesMax">Largest request, 0 for no limit.</param>
/// <param name="ChunkCountMax">Most chunks in a request, 0 for no limit.</param>
public readonly record struct AcknowledgeMessage(uint ProtocolVersion, uint ReceiveBufferBytes, uint SendBufferBytes, uint MessageBytesMax, uint ChunkCountMax);
