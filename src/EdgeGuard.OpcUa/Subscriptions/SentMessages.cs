using System.Buffers;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>Encoded NotificationMessages that were sent and not acknowledged, for Republish. Bounded by number and bytes; the oldest gives way.</summary>
internal sealed class SentMessages(ServerLimits limits) : IDisposable
{
    private readonly List<Sent> _sent = [];
    private long _bytes;

    public int Count => _sent.Count;

    /// <summary>Messages that gave way before they were acknowledged.</summary>
    public uint Discarded { get; private set; }

    public void Add(uint sequenceNumber, ReadOnlySpan<byte> message)
    {
        while (_sent.Count > 0 && _bytes + message.Length > limits.RetransmissionBytesMax)
        {
            GiveWay();
        }

        if (message.Length > limits.RetransmissionBytesMax)
        {
            return;
        }

        byte[] copy = ArrayPool<byte>.Shared.Rent(message.Length);
        message.CopyTo(copy);
        _sent.Add(new Sent(sequenceNumber, copy, message.Length));
        _bytes += message.Length;
    }

    public bool TryFind(uint sequenceNumber, out ReadOnlySpan<byte> message)
    {
        foreach (Sent sent in _sent)
        {
            if (sent.SequenceNumber == sequenceNumber)
            {
                message = sent.Buffer.AsSpan(0, sent.Length);
                return true;
            }
        }

        message = default;
        return false;
    }

    public bool Acknowledge(uint sequenceNumber)
    {
        for (int i = 0; i < _sent.Count; i++)
        {
            if (_sent[i].SequenceNumber == sequenceNumber)
            {
                RemoveAt(i);
                return true;
            }
        }

        return false;
    }

    /// <summary>Makes room for one message, before its numbers are told.</summary>
    public void MakeRoom()
    {
        while (_sent.Count >= limits.RetransmissionsMax)
        {
            GiveWay();
        }
    }

    /// <summary>Numbers that Republish would find, and that of the message under way, as an array on the wire.</summary>
    public void WriteNumbers(UaWriter writer, uint? underWay)
    {
        writer.WriteInt32(_sent.Count + (underWay is null ? 0 : 1));
        foreach (Sent sent in _sent)
        {
            writer.WriteUInt32(sent.SequenceNumber);
        }

        if (underWay is { } number)
        {
            writer.WriteUInt32(number);
        }
    }

    /// <summary>The same as an array.</summary>
    public uint[] Numbers() => [.. _sent.Select(static s => s.SequenceNumber)];

    public void Dispose()
    {
        while (_sent.Count > 0)
        {
            RemoveAt(_sent.Count - 1);
        }
    }

    private void GiveWay()
    {
        Discarded = unchecked(Discarded + 1);
        RemoveAt(0);
    }

    private void RemoveAt(int index)
    {
        _bytes -= _sent[index].Length;
        ArrayPool<byte>.Shared.Return(_sent[index].Buffer);
        _sent.RemoveAt(index);
    }

    private readonly record struct Sent(uint SequenceNumber, byte[] Buffer, int Length);
}
