namespace EdgeGuard.OpcUa.Transport;

/// <summary>HEL: what the client can take (OPC 10000-6, 7.1.2.3). In all limits 0 means none.</summary>
/// <param name="ProtocolVersion">Version of UA-TCP, 0.</param>
/// <param name="ReceiveBufferBytes">Largest chunk the sender can receive.</param>
/// <param name="SendBufferBytes">Largest chunk the sender will send.</param>
/// <param name="MessageBytesMax">Largest response.</param>
/// <param name="ChunkCountMax">Most chunks in a response.</param>
/// <param name="EndpointUrl">URL dialled, at most 4096 bytes.</param>
public readonly record struct HelloMessage(uint ProtocolVersion, uint ReceiveBufferBytes, uint SendBufferBytes, uint MessageBytesMax, uint ChunkCountMax, string? EndpointUrl);
