using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Modbus.Tests.Client;

/// <summary>Gives bytes to a client engine piece by piece, the way a transport does, without a socket.</summary>
internal sealed class ClientFeed(ClientEngine engine)
{
    private byte[] _unread = [];

    public int LateCount { get; private set; }

    public ClientStatus Give(ReadOnlySpan<byte> piece, Span<ushort> words)
    {
        _unread = [.. _unread, .. piece];
        while (true)
        {
            ClientStatus status = engine.Take(_unread, words, out int consumed);
            Assert.InRange(consumed, 0, _unread.Length);
            _unread = _unread[consumed..];
            if (status != ClientStatus.LateDropped)
            {
                return status;
            }

            LateCount++;
        }
    }
}
