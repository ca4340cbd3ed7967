using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Subscriptions;

/// <summary>Monitored items (OPC 10000-4, 5.12 and 7.22.2); points 8 and 10 of what independent clients trip over.</summary>
public sealed class MonitoredItemTests
{
    private const uint Absolute = 1;
    private const uint Percent = 2;
    private static readonly NodeId Outlet = new(2, "N-1/outlet");
    private static readonly NodeId Flow = new(2, "N-1/flow");
    private static readonly NodeId State = new(2, "N-1/state");

    [Theory]
    [InlineData(3, true, new[] { 4.0, 5, 6 }, 0)]
    [InlineData(3, false, new[] { 1.0, 2, 6 }, 2)]
    [InlineData(1, true, new[] { 6.0 }, -1)]
    [InlineData(1, false, new[] { 6.0 }, -1)]
    [InlineData(10, true, new[] { 1.0, 2, 3, 4, 5, 6 }, -1)]
    public void Point_10_overflow_is_marked_where_the_standard_says(uint queue, bool discardOldest, double[] expected, int marked)
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe(intervalMs: 1000).SubscriptionId;
        bench.Set(bench.Outlet, 1);
        client.Monitor(id, Outlet, samplingMs: 100, queue: queue, discardOldest: discardOldest);
        for (int i = 2; i <= 6; i++)
        {
            bench.Set(bench.Outlet, i);
            bench.Run(100);
        }

        client.Publish();
        bench.Run(600);
        MonitoredItemNotification[] data = client.NextData();
        Assert.Equal(expected, data.Select(static n => n.Value.Value.AsDouble));

        // OPC 10000-4, 5.12.1.5; Good with the overflow bit is 0x00000480.
        Assert.Equal(Enumerable.Range(0, expected.Length).Select(i => i == marked ? 0x480u : 0u), data.Select(static n => (uint)n.Value.Status));
    }

    [Fact]
    public void Values_stored_between_two_samples_are_taken_when_the_shell_says_so()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe(intervalMs: 1000).SubscriptionId;
        client.Monitor(id, Outlet, samplingMs: 0, queue: 100);
        for (int i = 0; i < 50; i++)
        {
            bench.Set(bench.Outlet, 100 + i);
            bench.Server.Updated(bench.Now);
        }

        client.Publish();
        bench.Run(1010);
        Assert.Equal(51, client.NextData().Length);
    }

    [Theory]
    [InlineData(Absolute, 5.0, 5.0)]
    [InlineData(Percent, 2.5, 5.0)] // 2.5 per cent of the range 0 to 200
    public void A_deadband_holds_changes_up_to_its_width_back(uint type, double value, double width)
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        bench.Set(bench.Outlet, 100);
        var filter = new DataChangeFilter { Trigger = DataChangeTrigger.StatusValue, DeadbandType = type, DeadbandValue = value };
        Assert.Equal(StatusCode.Good, client.Monitor(id, Outlet, filter: filter).StatusCode);
        client.Publish(10);
        bench.Run(110);
        Assert.Single(client.NextData());
        foreach ((double next, bool told) in new[] { (100 + width, false), (100 - width, false), (100 + width + 0.1, true), (100 + width, false), (double.NaN, true), (double.NaN, false), (100, true) })
        {
            bench.Set(bench.Outlet, next);
            bench.Run(210);
            Assert.Equal(told ? 1 : 0, client.NextData().Length);
        }

        bench.Set(bench.Outlet, 100, StatusCode.UncertainNoCommunicationLastUsableValue);
        bench.Run(210);
        Assert.Equal(StatusCode.UncertainNoCommunicationLastUsableValue, Assert.Single(client.NextData()).Value.Status);
    }

    [Theory]
    [InlineData(DataChangeTrigger.Status, new[] { false, false, true })]
    [InlineData(DataChangeTrigger.StatusValue, new[] { false, true, true })]
    [InlineData(DataChangeTrigger.StatusValueTimestamp, new[] { true, true, true })]
    public void The_trigger_of_a_filter_decides_what_is_a_change(DataChangeTrigger trigger, bool[] told)
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        client.Monitor(id, Outlet, filter: new DataChangeFilter { Trigger = trigger });
        client.Publish(10);
        bench.Run(110);
        Assert.Single(client.NextData());
        for (int step = 0; step < told.Length; step++)
        {
            bench.Set(bench.Outlet, step == 0 ? 20 : 21, step == 2 ? StatusCode.UncertainSensorNotAccurate : StatusCode.Good);
            bench.Run(210);
            Assert.Equal(told[step] ? 1 : 0, client.NextData().Length);
        }
    }

    [Fact]
    public void Filters_that_make_no_sense_are_refused()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        DataChangeFilter Band(uint type, double value) => new() { Trigger = DataChangeTrigger.StatusValue, DeadbandType = type, DeadbandValue = value };
        Assert.Equal(StatusCode.BadFilterNotAllowed, client.Monitor(id, State, filter: Band(Absolute, 1)).StatusCode);
        Assert.Equal(StatusCode.BadDeadbandFilterInvalid, client.Monitor(id, Outlet, filter: Band(Absolute, -1)).StatusCode);
        Assert.Equal(StatusCode.BadDeadbandFilterInvalid, client.Monitor(id, Outlet, filter: Band(Absolute, double.NaN)).StatusCode);
        Assert.Equal(StatusCode.BadDeadbandFilterInvalid, client.Monitor(id, Outlet, filter: Band(Percent, 101)).StatusCode);
        Assert.Equal(StatusCode.BadDeadbandFilterInvalid, client.Monitor(id, Outlet, filter: Band(3, 1)).StatusCode);
        Assert.Equal(StatusCode.BadMonitoredItemFilterUnsupported, client.Monitor(id, Flow, filter: Band(Percent, 1)).StatusCode); // no EURange
        Assert.Equal(StatusCode.BadMonitoredItemFilterInvalid, client.Monitor(id, Outlet, filter: new DataChangeFilter { Trigger = (DataChangeTrigger)7 }).StatusCode);
    }

    [Fact]
    public void What_does_not_exist_cannot_be_monitored()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        Assert.Equal(StatusCode.BadNodeIdUnknown, client.Monitor(id, new NodeId(2, "N-9/outlet")).StatusCode);
        Assert.Equal(StatusCode.BadAttributeIdInvalid, client.Monitor(id, new NodeId(2, "N-1")).StatusCode);
        Assert.Equal(StatusCode.BadSubscriptionIdInvalid, client.AskFault(new CreateMonitoredItemsRequest { SubscriptionId = 99, ItemsToCreate = [new()] }));
        Assert.Equal(StatusCode.BadNothingToDo, client.AskFault(new CreateMonitoredItemsRequest { SubscriptionId = id }));
        Assert.Equal(StatusCode.BadTimestampsToReturnInvalid, client.AskFault(new CreateMonitoredItemsRequest { SubscriptionId = id, TimestampsToReturn = (TimestampsToReturn)4, ItemsToCreate = [new()] }));
        Assert.Equal(StatusCode.BadMonitoringModeInvalid, client.Monitor(id, Outlet, mode: (MonitoringMode)3).StatusCode);
    }

    [Fact]
    public void An_item_that_only_samples_tells_when_it_is_triggered()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        uint trigger = client.Monitor(id, State, handle: 1).MonitoredItemId;
        uint silent = client.Monitor(id, Outlet, queue: 10, handle: 2, mode: MonitoringMode.Sampling).MonitoredItemId;
        SetTriggeringResponse linked = client.Ask<SetTriggeringResponse>(new SetTriggeringRequest { SubscriptionId = id, TriggeringItemId = trigger, LinksToAdd = [silent, 99], LinksToRemove = [98] });
        Assert.Equal([StatusCode.Good, StatusCode.BadMonitoredItemIdInvalid], linked.AddResults!);
        Assert.Equal([StatusCode.BadMonitoredItemIdInvalid], linked.RemoveResults!);
        client.Publish(20);
        bench.Run(110);
        Assert.Equal([1u], client.NextData().Select(static n => n.ClientHandle));
        bench.Set(bench.Outlet, 55);
        bench.Run(210);
        Assert.Empty(client.NextData());
        bench.State.Set(new Variant("Tripped"), bench.Now.Utc);
        bench.Run(210);
        Assert.Equal([(1u, 0.0), (2, 20), (2, 55)], client.NextData().Select(static n => (n.ClientHandle, n.Value.Value.AsDouble)));
        client.Ask<SetTriggeringResponse>(new SetTriggeringRequest { SubscriptionId = id, TriggeringItemId = trigger, LinksToRemove = [silent] });
        bench.Set(bench.Outlet, 56);
        bench.State.Set(new Variant("Ready"), bench.Now.Utc);
        bench.Run(210);
        Assert.Equal([1u], client.NextData().Select(static n => n.ClientHandle));
    }

    [Fact]
    public void A_disabled_item_forgets_and_begins_anew()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        uint item = client.Monitor(id, Outlet).MonitoredItemId;
        client.Publish(10);
        bench.Run(110);
        Assert.Single(client.NextData());
        Assert.Equal([StatusCode.Good, StatusCode.BadMonitoredItemIdInvalid], client.Ask<SetMonitoringModeResponse>(new SetMonitoringModeRequest { SubscriptionId = id, MonitoringMode = MonitoringMode.Disabled, MonitoredItemIds = [item, 99] }).Results!);
        bench.Set(bench.Outlet, 30);
        bench.Run(210);
        Assert.Empty(client.NextData());
        client.Ask<SetMonitoringModeResponse>(new SetMonitoringModeRequest { SubscriptionId = id, MonitoringMode = MonitoringMode.Reporting, MonitoredItemIds = [item] });
        bench.Run(110);
        Assert.Equal(30.0, Assert.Single(client.NextData()).Value.Value.AsDouble);
    }

    [Fact]
    public void An_item_is_modified_with_its_queue_and_deleted()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        uint item = client.Monitor(id, Outlet, handle: 1).MonitoredItemId;
        MonitoredItemModifyResult modified = client.Ask<ModifyMonitoredItemsResponse>(new ModifyMonitoredItemsRequest
        {
            SubscriptionId = id,
            TimestampsToReturn = TimestampsToReturn.Source,
            ItemsToModify = [new() { MonitoredItemId = item, RequestedParameters = new() { ClientHandle = 9, SamplingInterval = 200, QueueSize = 5, DiscardOldest = true } }],
        }).Results![0];
        Assert.Equal((StatusCode.Good, 200.0, 5u), (modified.StatusCode, modified.RevisedSamplingInterval, modified.RevisedQueueSize));
        client.Publish(10);
        bench.Set(bench.Outlet, 31);
        bench.Run(310);
        MonitoredItemNotification[] data = client.NextData();
        Assert.All(data, static n => Assert.Equal(9u, n.ClientHandle));
        Assert.Equal([StatusCode.Good, StatusCode.BadMonitoredItemIdInvalid], client.Ask<DeleteMonitoredItemsResponse>(new DeleteMonitoredItemsRequest { SubscriptionId = id, MonitoredItemIds = [item, item] }).Results!);
        client.Published.Clear();
        bench.Set(bench.Outlet, 32);
        bench.Run(510);
        Assert.Empty(client.NextData());
    }

    [Fact]
    public void Quotas_hold_for_items_and_for_queued_values()
    {
        var limits = new ServerLimits { QueuedValuesPerSessionMax = 150, ItemsPerSessionMax = 4 };
        using var bench = new ServerBench(ServerBench.Plain with { Limits = limits, Operations = new OperationLimits { MonitoredItemQueueSize = 100, SamplingIntervalMinMs = 100 } });
        BenchClient client = bench.Activated();
        uint id = client.Subscribe().SubscriptionId;
        Assert.Equal(100u, client.Monitor(id, Outlet, queue: 5000).RevisedQueueSize);
        Assert.Equal(50u, client.Monitor(id, Outlet, queue: 5000).RevisedQueueSize);
        Assert.Equal(StatusCode.BadTooManyMonitoredItems, client.Monitor(id, Outlet).StatusCode);
        client.Ask<DeleteSubscriptionsResponse>(new DeleteSubscriptionsRequest { SubscriptionIds = [id] });
        id = client.Subscribe().SubscriptionId;
        for (int i = 0; i < 4; i++)
        {
            Assert.Equal(StatusCode.Good, client.Monitor(id, Outlet).StatusCode);
        }

        Assert.Equal(StatusCode.BadTooManyMonitoredItems, client.Monitor(id, Outlet).StatusCode);
    }

    [Fact]
    public void Current_time_and_server_state_can_be_monitored_as_keep_alive()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe(intervalMs: 500).SubscriptionId;
        client.Monitor(id, new NodeId(2258), samplingMs: 500, handle: 1);
        client.Monitor(id, new NodeId(2259), samplingMs: 500, handle: 2);
        client.Publish(10);
        bench.Run(2_600);
        uint[] handles = [.. client.Published.OfType<PublishResponse>().SelectMany(BenchClient.Data).Select(static n => n.ClientHandle)];
        Assert.Equal((5, 1), (handles.Count(static h => h == 1), handles.Count(static h => h == 2)));
    }

    [Fact]
    public void Sampling_two_thousand_changes_allocates_next_to_nothing()
    {
        const int Items = 2_000;
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint id = client.Subscribe(keepAlives: 1000, lifetime: 10_000).SubscriptionId;
        for (uint i = 0; i < Items; i++)
        {
            client.Monitor(id, Outlet, handle: i);
        }

        client.Publish(15);
        bench.Run(210);
        client.Published.Clear();
        bench.Set(bench.Outlet, 1234.5);
        bench.Server.Tick(bench.Now);
        long before = GC.GetAllocatedBytesForCurrentThread();
        bench.Server.Updated(bench.Now);
        long sampling = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(sampling < 1000, $"sampling {Items} items took {sampling} bytes");
        bench.Run(110);
        Assert.Equal(Items, client.NextData().Length);
    }
}
