using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>
/// Encodes answers to Publish straight from the queues into one writer: no object and no box per notification. The
/// NotificationMessage within is kept for Republish as the bytes that were sent. Under the server's gate.
/// </summary>
internal sealed class PublishWriter(int bytesMax) : IDisposable
{
    // Room behind the notifications for diagnostics, results of acknowledgements and their counts.
    private const int TailBytes = 64;

    private readonly UaWriter _writer = new(bytesMax, startBytes: 65_536);

    /// <summary>Sends as many values as one message takes.</summary>
    public void SendData(UaSubscription subscription, in PendingPublish publish, ChannelClock now)
    {
        Begin(publish, subscription.Id, now);
        uint number = subscription.UseSequenceNumber();
        subscription.Sent.MakeRoom();
        subscription.Sent.WriteNumbers(_writer, number);
        int moreAt = _writer.Length;
        _writer.WriteBoolean(false);
        int messageAt = _writer.Length;
        _writer.WriteUInt32(number);
        _writer.WriteDateTime(now.Utc);
        _writer.WriteInt32(1);
        WriteData(subscription, ByteLimit(publish));
        int messageEnd = _writer.Length;
        _writer.WrittenForUpdate[moreAt] = subscription.Pending > 0 ? (byte)1 : (byte)0;
        subscription.Sent.Add(number, _writer.Written[messageAt..messageEnd]);
        End(publish, now);
    }

    /// <summary>A message without notifications; carries the next number without using it up.</summary>
    public void SendKeepAlive(UaSubscription subscription, in PendingPublish publish, ChannelClock now)
    {
        Begin(publish, subscription.Id, now);
        subscription.Sent.WriteNumbers(_writer, null);
        _writer.WriteBoolean(false);
        _writer.WriteUInt32(subscription.NextSequenceNumber);
        _writer.WriteDateTime(now.Utc);
        _writer.WriteInt32(0);
        End(publish, now);
    }

    /// <summary>Tells the end of a subscription.</summary>
    public void SendStatus(in StatusMessage message, in PendingPublish publish, ChannelClock now)
    {
        Begin(publish, message.SubscriptionId, now);
        _writer.WriteInt32(0);
        _writer.WriteBoolean(false);
        _writer.WriteUInt32(message.SequenceNumber);
        _writer.WriteDateTime(now.Utc);
        _writer.WriteInt32(1);
        _writer.WriteExtensionObject(new ExtensionObject(new StatusChangeNotification { Status = message.Status }));
        End(publish, now);
    }

    /// <summary>Answers a Publish request that gets no message.</summary>
    public void SendFault(in PendingPublish publish, StatusCode status, ChannelClock now)
    {
        _writer.Clear();
        _writer.WriteNodeId(new NodeId(ServiceFault.BinaryId));
        WriteHeader(publish.RequestHandle, status, now);
        publish.Peer.Send(publish.RequestId, _writer.Written, now);
        publish.Peer.Ready();
    }

    public void Dispose() => _writer.Dispose();

    private void WriteData(UaSubscription subscription, int bytesLimit)
    {
        _writer.WriteNodeId(new NodeId(DataChangeNotification.BinaryId));
        _writer.WriteByte((byte)ExtensionObjectEncoding.Binary);
        int lengthAt = _writer.Length;
        _writer.WriteInt32(0);
        int countAt = _writer.Length;
        _writer.WriteInt32(0);
        int count = WriteItems(subscription, bytesLimit);
        SubscriptionTally.Count(ref subscription.Tally.DataChanges, (uint)count);
        _writer.PatchInt32(countAt, count);
        _writer.WriteInt32(0);
        _writer.PatchInt32(lengthAt, _writer.Length - lengthAt - sizeof(int));
    }

    private int WriteItems(UaSubscription subscription, int bytesLimit)
    {
        List<MonitoredItem> items = subscription.Order;
        int count = 0;
        int left = (int)subscription.NotificationsMax;
        int at = subscription.Cursor;
        for (int seen = 0; seen < items.Count && subscription.Pending > 0; seen++)
        {
            at = at < items.Count ? at : 0;
            MonitoredItem item = items[at];
            while (item.IsReportable && item.Queue.Count > 0)
            {
                if (left == 0 || !TryWrite(item, bytesLimit, first: count == 0))
                {
                    subscription.Cursor = at;
                    return count;
                }

                item.RemoveOldest();
                (count, left) = (count + 1, left - 1);
            }

            at++;
        }

        subscription.Cursor = 0;
        return count;
    }

    private bool TryWrite(MonitoredItem item, int bytesLimit, bool first)
    {
        int before = _writer.Length;
        _writer.WriteUInt32(item.ClientHandle);
        _writer.WriteDataValue(item.Queue.Oldest);
        if (!_writer.Overflowed && _writer.Length <= bytesLimit)
        {
            return true;
        }

        _writer.Truncate(before);
        if (first)
        {
            // A value that fits no message of this client is told by its status, or it would block all others for ever.
            _writer.WriteUInt32(item.ClientHandle);
            _writer.WriteDataValue(new DataValue(StatusCode.BadEncodingLimitsExceeded));
        }

        return first;
    }

    private static int ByteLimit(in PendingPublish publish)
    {
        int limit = publish.Peer.SendBytesMax;
        uint asked = publish.Peer.LastSession?.ResponseBytesMax ?? 0;
        limit = asked == 0 ? limit : (int)Math.Min((uint)limit, asked);
        return limit - TailBytes - (sizeof(uint) * publish.Results.Length);
    }

    private void Begin(in PendingPublish publish, uint subscriptionId, ChannelClock now)
    {
        _writer.Clear();
        _writer.WriteNodeId(new NodeId(PublishResponse.BinaryId));
        WriteHeader(publish.RequestHandle, StatusCode.Good, now);
        _writer.WriteUInt32(subscriptionId);
    }

    private void WriteHeader(uint requestHandle, StatusCode status, ChannelClock now)
    {
        _writer.WriteDateTime(now.Utc);
        _writer.WriteUInt32(requestHandle);
        _writer.WriteStatusCode(status);
        _writer.WriteDiagnosticInfo(null);
        _writer.WriteInt32(0);
        _writer.WriteExtensionObject(null);
    }

    private void End(in PendingPublish publish, ChannelClock now)
    {
        _writer.WriteStatusCodeArray(publish.Results);
        _writer.WriteInt32(0);
        publish.Peer.Send(publish.RequestId, _writer.Written, now);
        publish.Peer.Ready();
    }
}
