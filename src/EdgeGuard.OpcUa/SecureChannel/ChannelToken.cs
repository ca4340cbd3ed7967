using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>One security token of a channel and its keys; no keys when the mode is None.</summary>
internal sealed class ChannelToken(uint tokenId, long createdMs, uint lifetimeMs, MessageSecurityMode mode, ChannelKeys? sendKeys, ChannelKeys? receiveKeys) : IDisposable
{
    public uint TokenId => tokenId;

    public MessageSecurityMode Mode => mode;

    public ChannelKeys? SendKeys => sendKeys;

    public ChannelKeys? ReceiveKeys => receiveKeys;

    // A token is accepted for 25 % more than its lifetime (OPC 10000-4, OpenSecureChannel).
    public long EndMs => createdMs + lifetimeMs + (lifetimeMs / 4);

    // A client should renew after 75 % of the lifetime (same clause).
    public long RenewMs => createdMs + (lifetimeMs / 4 * 3);

    public bool IsOver(long nowMs) => nowMs >= EndMs;

    public void Dispose()
    {
        sendKeys?.Dispose();
        receiveKeys?.Dispose();
    }
}
