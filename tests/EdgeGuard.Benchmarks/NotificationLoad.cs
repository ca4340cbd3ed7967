using System.Diagnostics;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;
using EdgeGuard.Publication.Hosting;

namespace EdgeGuard.Benchmarks;

/// <summary>
/// One client that monitors so many variables at 100 ms. A value is the number of its change: what is missing between two
/// values of an item was lost.
/// </summary>
internal sealed class NotificationLoad : IDisposable
{
    private const int PublishesWaiting = 5;
    private const int ItemsPerCall = 1000;
    private const uint QueueSize = 10;
    private static readonly UaLimits Decoding = new() { ByteStringBytesMax = 16_777_216, DecodedBytesMax = 268_435_456 };

    private readonly LoadClient _client;
    private readonly double[] _last;
    private uint _subscriptionId;

    public NotificationLoad(LoadTarget target, ApplicationInstance? own, int items, int first)
    {
        _last = new double[items];
        _client = new LoadClient(target, own);
        _client.OpenSession();
        _subscriptionId = _client.Ask<CreateSubscriptionResponse>(new CreateSubscriptionRequest
        {
            RequestedPublishingInterval = BenchHost.ChangeMs,
            RequestedMaxKeepAliveCount = 10,
            RequestedLifetimeCount = 1000,
            PublishingEnabled = true,
        }).SubscriptionId;
        for (int at = 0; at < items; at += ItemsPerCall)
        {
            Monitor(target, first, at, Math.Min(ItemsPerCall, items - at));
        }
    }

    /// <summary>Notifications taken in the measured time.</summary>
    public long Taken { get; private set; }

    /// <summary>Values that never came.</summary>
    public long Lost { get; private set; }

    /// <summary>Oldest value when it came, milliseconds.</summary>
    public double OldestMs { get; private set; }

    /// <summary>Measured time.</summary>
    public double Seconds { get; private set; }

    /// <summary>Takes notifications; those of the first part fill the pipe and are not counted, but nothing of them may be lost.</summary>
    public void Run(double warmUpSeconds, double seconds)
    {
        for (int i = 0; i < PublishesWaiting; i++)
        {
            _client.Post(new PublishRequest());
        }

        Take(warmUpSeconds);
        (Taken, OldestMs) = (0, 0);
        long start = Stopwatch.GetTimestamp();
        Take(seconds);
        Seconds = Stopwatch.GetElapsedTime(start).TotalSeconds;
    }

    public void Dispose() => _client.Dispose();

    private void Monitor(LoadTarget target, int first, int at, int count)
    {
        var items = new MonitoredItemCreateRequest[count];
        for (int i = 0; i < count; i++)
        {
            items[i] = new MonitoredItemCreateRequest
            {
                ItemToMonitor = new ReadValueId { NodeId = BenchIds.Of(target.NamespaceIndex, first + at + i), AttributeId = (uint)AttributeId.Value },
                MonitoringMode = MonitoringMode.Reporting,
                RequestedParameters = new MonitoringParameters { ClientHandle = (uint)(at + i), SamplingInterval = BenchHost.ChangeMs, QueueSize = QueueSize, DiscardOldest = true },
            };
        }

        CreateMonitoredItemsResponse made = _client.Ask<CreateMonitoredItemsResponse>(new CreateMonitoredItemsRequest { SubscriptionId = _subscriptionId, TimestampsToReturn = TimestampsToReturn.Both, ItemsToCreate = items });
        if (made.Results!.FirstOrDefault(static result => result.StatusCode != StatusCode.Good) is { } refused)
        {
            throw new InvalidOperationException($"an item was refused: {refused.StatusCode}");
        }
    }

    private void Take(double seconds)
    {
        long end = Stopwatch.GetTimestamp() + (long)(seconds * Stopwatch.Frequency);
        while (Stopwatch.GetTimestamp() < end)
        {
            uint number = TakeMessage(_client.Receive());
            _client.Post(new PublishRequest { SubscriptionAcknowledgements = number == 0 ? [] : [new SubscriptionAcknowledgement { SubscriptionId = _subscriptionId, SequenceNumber = number }] });
        }
    }

    // The number of the message, 0 for a keep-alive.
    private uint TakeMessage(ReadOnlySpan<byte> body)
    {
        var reader = new UaReader(body, Decoding);
        uint type = reader.ReadNodeId().Number;
        StatusCode result = ResponseHeader.Read(ref reader).ServiceResult;
        if (type != PublishResponse.BinaryId || result != StatusCode.Good)
        {
            throw new InvalidOperationException($"Publish was answered by type {type}, {result}");
        }

        reader.ReadUInt32();
        reader.ReadUInt32Array();
        reader.ReadBoolean();
        uint number = reader.ReadUInt32();
        reader.ReadDateTime();
        int notifications = reader.ReadInt32();
        for (int i = 0; i < notifications; i++)
        {
            reader.ReadNodeId();
            reader.ReadByte();
            TakeValues(reader.ReadByteStringBytes(out _));
        }

        return notifications > 0 && !reader.Failed ? number : 0;
    }

    private void TakeValues(ReadOnlySpan<byte> encoded)
    {
        var reader = new UaReader(encoded, Decoding);
        int count = reader.ReadInt32();
        for (int i = 0; i < count; i++)
        {
            uint handle = reader.ReadUInt32();
            DataValue value = reader.ReadDataValue();
            value.Value.TryGetNumber(out double number);
            ref double last = ref _last[(int)handle];
            Lost += last > 0 && number != last + 1 ? (long)Math.Max(1, number - last - 1) : 0;
            last = number;
            OldestMs = i == 0 ? Math.Max(OldestMs, (HostClock.Now.Utc.Ticks - value.SourceTimestamp.Ticks) / (double)TimeSpan.TicksPerMillisecond) : OldestMs;
        }

        Taken += reader.Failed ? throw new InvalidOperationException("a notification could not be decoded") : count;
    }
}
