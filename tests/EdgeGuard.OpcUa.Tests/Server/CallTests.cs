using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>Call (OPC 10000-4, 5.11.2); point 12 of what independent clients trip over.</summary>
public sealed class CallTests
{
    private static readonly NodeId Unit = new(2, "N-1");
    private static readonly NodeId Stop = new(2, "N-1/stop");

    [Fact]
    public void Point_12_arguments_are_counted_and_typed_and_the_role_is_asked()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        BenchClient anonymous = bench.Activated();
        Assert.Equal(StatusCode.BadUserAccessDenied, Call(anonymous, Unit, Stop, new Variant("why")).StatusCode);
        BenchClient client = Operator(bench);
        Assert.Equal(StatusCode.BadNodeIdUnknown, Call(client, new NodeId(2, "N-9"), Stop).StatusCode);
        Assert.Equal(StatusCode.BadMethodInvalid, Call(client, Unit, new NodeId(2, "N-1/flow")).StatusCode);
        Assert.Equal(StatusCode.BadArgumentsMissing, Call(client, Unit, Stop).StatusCode);
        Assert.Equal(StatusCode.BadTooManyArguments, Call(client, Unit, Stop, new Variant("a"), new Variant("b")).StatusCode);
        CallMethodResult mistyped = Call(client, Unit, Stop, new Variant(7));
        Assert.Equal((StatusCode.BadInvalidArgument, StatusCode.BadTypeMismatch), (mistyped.StatusCode, mistyped.InputArgumentResults![0]));
        Assert.Empty(bench.Calls);
        CallMethodResult good = Call(client, Unit, Stop, new Variant("shift ends"));
        Assert.Equal((StatusCode.Good, "stopped"), (good.StatusCode, good.OutputArguments![0].AsString));
        Assert.Equal(["operator shift ends"], bench.Calls);
    }

    [Fact]
    public void Calls_refused_before_the_handler_are_told_with_caller_and_status()
    {
        using var bench = new ServerBench(ServerBench.Secured(new BenchUsers()));
        var told = new List<(bool Anonymous, StatusCode Status)>();
        ((MethodNode)bench.Server.Space.Find(Stop)!).Refused = (caller, status) => told.Add((caller.UserName is null, status));
        Call(bench.Activated(), Unit, Stop, new Variant("why"));
        BenchClient client = Operator(bench);
        Call(client, Unit, Stop);
        Call(client, Unit, Stop, new Variant("shift ends"));
        Assert.Equal([(true, StatusCode.BadUserAccessDenied), (false, StatusCode.BadArgumentsMissing)], told);
    }

    [Fact]
    public void Point_12_a_method_of_a_type_is_not_executable()
    {
        using var bench = new ServerBench();
        // Acknowledge of AcknowledgeableConditionType has no handler here: no condition is published yet.
        BenchClient client = bench.Activated();
        Assert.Equal(StatusCode.BadNotExecutable, Call(client, new NodeId(2881), new NodeId(9111), new Variant(Array.Empty<byte>()), new Variant(new LocalizedText("x"))).StatusCode);
    }

    [Fact]
    public void Point_12_get_monitored_items_and_resend_data_serve_the_own_session_only()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Activated();
        uint subscription = client.Subscribe().SubscriptionId;
        uint item = client.Monitor(subscription, new NodeId(2, "N-1/outlet"), handle: 77).MonitoredItemId;
        CallMethodResult items = Call(client, new NodeId(2253), new NodeId(11492), new Variant(subscription));
        Assert.Equal(StatusCode.Good, items.StatusCode);
        Assert.Equal([item], (uint[])items.OutputArguments![0].Elements!);
        Assert.Equal([77u], (uint[])items.OutputArguments[1].Elements!);
        client.Publish(3);
        bench.Run(200);
        Assert.Single(client.NextData());
        bench.Run(500);
        Assert.Empty(client.NextData());
        Assert.Equal(StatusCode.Good, Call(client, new NodeId(2253), new NodeId(12873), new Variant(subscription)).StatusCode);
        bench.Run(200);
        Assert.Single(client.NextData());
        BenchClient other = bench.Activated();
        Assert.Equal(StatusCode.BadUserAccessDenied, Call(other, new NodeId(2253), new NodeId(11492), new Variant(subscription)).StatusCode);
        Assert.Equal(StatusCode.BadSubscriptionIdInvalid, Call(other, new NodeId(2253), new NodeId(11492), new Variant(999u)).StatusCode);
    }

    private static BenchClient Operator(ServerBench bench)
    {
        BenchClient client = bench.Connect(SecurityPolicy.Basic256Sha256, MessageSecurityMode.SignAndEncrypt);
        client.CreateSession();
        client.Activate(new UserNameIdentityToken { UserName = "operator", Password = "pellets-650"u8.ToArray() });
        return client;
    }

    private static CallMethodResult Call(BenchClient client, NodeId target, NodeId method, params Variant[] inputs) =>
        client.Ask<CallResponse>(new CallRequest { MethodsToCall = [new CallMethodRequest { ObjectId = target, MethodId = method, InputArguments = inputs }] }).Results![0];
}
