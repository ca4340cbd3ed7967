using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>A server that runs and has nothing more to say.</summary>
internal sealed class RunningState(UaDateTime since) : IServerState
{
    public ServerState State => ServerState.Running;

    public UaDateTime StateSince => since;

    public byte ServiceLevel => 255;

    public bool Auditing => false;

    public uint SecondsTillShutdown => 0;

    public LocalizedText ShutdownReason => default;
}
