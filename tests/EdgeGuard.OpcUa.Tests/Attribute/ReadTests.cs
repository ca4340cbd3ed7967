using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Services;
using EdgeGuard.OpcUa.Tests.AddressSpace;

namespace EdgeGuard.OpcUa.Tests.Attribute;

/// <summary>Read: results, timestamps and refusals of OPC 10000-4, 5.11.2 (contract points 13 and 14).</summary>
public sealed class ReadTests
{
    private static readonly UaDateTime Measured = UaDateTime.FromUtc(new DateTime(2026, 5, 1, 7, 59, 59, DateTimeKind.Utc));
    private readonly TestSpace _test = new();

    // OPC 10000-3, tables of the node classes: attributes that every node of the class has.
    private static AttributeId[] Mandatory(Node node) =>
    [
        AttributeId.NodeId, AttributeId.NodeClass, AttributeId.BrowseName, AttributeId.DisplayName,
        .. node.NodeClass switch
        {
            NodeClass.Object => [AttributeId.EventNotifier],
            NodeClass.Variable => [AttributeId.Value, AttributeId.DataType, AttributeId.ValueRank, AttributeId.AccessLevel, AttributeId.UserAccessLevel, AttributeId.Historizing],
            NodeClass.Method => [AttributeId.Executable, AttributeId.UserExecutable],
            NodeClass.ObjectType or NodeClass.DataType => [AttributeId.IsAbstract],
            NodeClass.VariableType => [AttributeId.DataType, AttributeId.ValueRank, AttributeId.IsAbstract],
            NodeClass.ReferenceType => [AttributeId.IsAbstract, AttributeId.Symmetric],
            _ => Array.Empty<AttributeId>(),
        },
    ];

    [Fact]
    public void Contract_point_13_every_attribute_of_every_node_is_good_or_does_not_exist()
    {
        var admin = new CallerContext { Roles = CallerRoles.Any };
        foreach (Node node in _test.Space.Snapshot())
        {
            AttributeId[] mandatory = Mandatory(node);
            for (uint id = 0; id <= 30; id++)
            {
                DataValue value = AttributeReader.Read(_test.Context(admin), new ReadValueId { NodeId = node.NodeId, AttributeId = id });
                bool isGood = value.Status == StatusCode.Good;
                bool waits = value.Status == StatusCode.BadWaitingForInitialData && id == (uint)AttributeId.Value && node.NodeId.NamespaceIndex == 2;
                Assert.True(isGood || waits || value.Status == StatusCode.BadAttributeIdInvalid, $"{node} attribute {id}: {value.Status}");
                Assert.True(isGood || waits || !mandatory.Contains((AttributeId)id), $"{node} lacks attribute {id}");
                Assert.True(isGood || value.Value.IsNull, $"{node} attribute {id} has a value with {value.Status}");
            }
        }
    }

    [Fact]
    public void A_value_comes_with_its_status_and_both_times()
    {
        _test.Variable("N-1/outlet").Set(new DataValue(new Variant(612.5), StatusCode.UncertainNoCommunicationLastUsableValue, Measured));
        DataValue value = Assert.Single(Respond(Request("N-1/outlet")));
        Assert.Equal(new DataValue(new Variant(612.5), StatusCode.UncertainNoCommunicationLastUsableValue, Measured, TestSpace.Now), value);
    }

    [Theory]
    [InlineData(TimestampsToReturn.Source, true, false)]
    [InlineData(TimestampsToReturn.Server, false, true)]
    [InlineData(TimestampsToReturn.Both, true, true)]
    [InlineData(TimestampsToReturn.Neither, false, false)]
    public void Contract_point_13_only_the_timestamps_asked_for_come_back(TimestampsToReturn asked, bool source, bool server)
    {
        _test.Variable("N-1/outlet").Set(new Variant(612.5), Measured);
        ReadRequest request = Request("N-1/outlet");
        request.TimestampsToReturn = asked;
        DataValue value = Assert.Single(Respond(request));
        Assert.Equal((source, server), (!value.SourceTimestamp.IsNull, !value.ServerTimestamp.IsNull));
    }

    [Fact]
    public void Other_attributes_have_no_source_timestamp()
    {
        DataValue value = _test.Read(TestSpace.Signal("N-1/outlet"), AttributeId.DisplayName);
        Assert.Equal((true, TestSpace.Now), (value.SourceTimestamp.IsNull, value.ServerTimestamp));
    }

    [Fact]
    public void Contract_point_14_the_source_stamp_is_never_later_than_the_server_stamp()
    {
        UaDateTime afterStep = UaDateTime.FromUtc(TestSpace.Now.ToUtc().AddHours(1));
        _test.Variable("N-1/outlet").Set(new Variant(612.5), afterStep);
        DataValue value = _test.Read(TestSpace.Signal("N-1/outlet"));
        Assert.Equal(afterStep, value.SourceTimestamp);
        Assert.True(value.SourceTimestamp <= value.ServerTimestamp);
    }

    [Fact]
    public void Contract_point_15_a_bad_status_carries_no_value()
    {
        _test.Variable("N-1/outlet").Set(new DataValue(new Variant(612.5), StatusCode.BadNoCommunication, Measured));
        DataValue value = _test.Read(TestSpace.Signal("N-1/outlet"));
        Assert.Equal((StatusCode.BadNoCommunication, true, Measured), (value.Status, value.Value.IsNull, value.SourceTimestamp));
    }

    [Theory]
    [InlineData(-1.0)]
    [InlineData(double.NaN)]
    [InlineData(double.NegativeInfinity)]
    public void Contract_point_13_a_negative_age_is_refused(double maxAge)
    {
        ReadRequest request = Request("N-1/outlet");
        request.MaxAge = maxAge;
        Assert.Equal(StatusCode.BadMaxAgeInvalid, Refused(request));
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(4)]
    [InlineData(int.MaxValue)]
    public void Contract_point_13_other_timestamps_are_refused(int timestamps)
    {
        ReadRequest request = Request("N-1/outlet");
        request.TimestampsToReturn = (TimestampsToReturn)timestamps;
        Assert.Equal(StatusCode.BadTimestampsToReturnInvalid, Refused(request));
    }

    [Fact]
    public void Contract_point_5_limits_are_obeyed()
    {
        _test.Limits = new OperationLimits { NodesPerRead = 2 };
        Assert.Equal(2, Respond(Request("N-1/outlet", "N-1/flow")).Length);
        Assert.Equal(StatusCode.BadTooManyOperations, Refused(Request("N-1/outlet", "N-1/flow", "N-1/mode")));
        Assert.Equal(StatusCode.BadNothingToDo, Refused(Request()));
        Assert.Equal(StatusCode.BadNothingToDo, Refused(new ReadRequest()));
        _test.Limits = new OperationLimits { NodesPerRead = 0 };
        Assert.Equal(3, Respond(Request("N-1/outlet", "N-1/flow", "N-1/mode")).Length);
    }

    [Fact]
    public void Contract_point_11_an_answer_that_does_not_fit_is_refused_and_leaves_nothing()
    {
        using var writer = new UaWriter(bytesMax: 100);
        StatusCode status = ReadService.Respond(_test.Context(), Request([.. Enumerable.Repeat("N-1/note", 50)]), writer);
        Assert.Equal((StatusCode.BadResponseTooLarge, 0, false), (status, writer.Length, writer.Overflowed));
    }

    [Fact]
    public void Unknown_nodes_and_attributes_are_results_of_their_own()
    {
        ReadRequest request = Request("N-1/note", "nothing", "N-1/note", "N-1");
        request.NodesToRead![2].AttributeId = 99;
        DataValue[] results = Respond(request);
        Assert.Equal([StatusCode.Good, StatusCode.BadNodeIdUnknown, StatusCode.BadAttributeIdInvalid, StatusCode.BadAttributeIdInvalid], results.Select(r => r.Status));
    }

    [Fact]
    public void The_header_and_the_empty_diagnostics_are_those_of_the_request()
    {
        ReadRequest request = Request("N-1/note");
        request.RequestHeader.RequestHandle = 4711;
        using var writer = new UaWriter();
        Assert.Equal(StatusCode.Good, ReadService.Respond(_test.Context(), request, writer));
        Assert.Equal(StatusCode.Good, ServiceMessage.TryReadResponse(writer.Written, UaLimits.Default, out IServiceResponse? response));
        var read = Assert.IsType<ReadResponse>(response);
        Assert.Equal((4711u, StatusCode.Good, TestSpace.Now), (read.ResponseHeader.RequestHandle, read.ResponseHeader.ServiceResult, read.ResponseHeader.Timestamp));
        Assert.Empty(read.DiagnosticInfos!);
    }

    // OPC 10000-4, 7.29 and the result codes of Read.
    [Theory]
    [InlineData(2256, 0, "Default Binary", StatusCode.Good)]
    [InlineData(2256, 0, "Default XML", StatusCode.BadDataEncodingUnsupported)]
    [InlineData(2256, 0, "Default JSON", StatusCode.BadDataEncodingUnsupported)]
    [InlineData(2256, 0, "Default", StatusCode.BadDataEncodingInvalid)]
    [InlineData(2256, 1, "Default Binary", StatusCode.BadDataEncodingInvalid)]
    [InlineData(2258, 0, "Default Binary", StatusCode.BadDataEncodingInvalid)]
    public void Contract_point_13_only_structures_have_encodings_and_only_binary(uint node, ushort ns, string name, StatusCode expected)
    {
        var id = new ReadValueId { NodeId = new NodeId(node), AttributeId = (uint)AttributeId.Value, DataEncoding = new QualifiedName(ns, name) };
        Assert.Equal(expected, AttributeReader.Read(_test.Context(), id).Status);
        id.AttributeId = (uint)AttributeId.BrowseName;
        Assert.Equal(StatusCode.BadDataEncodingInvalid, AttributeReader.Read(_test.Context(), id).Status);
    }

    [Fact]
    public void Contract_point_13_a_range_is_read_of_arrays_and_of_texts()
    {
        NodeId profile = TestSpace.Signal("N-1/profile");
        Assert.Equal([20.0, 30], (double[])TestSpace.Good(_test.Read(profile, range: "1:2")).Elements!);
        Assert.Equal([50.0], (double[])TestSpace.Good(_test.Read(profile, range: "4")).Elements!);
        Assert.Equal([40.0, 50], (double[])TestSpace.Good(_test.Read(profile, range: "3:9")).Elements!);
        Assert.Equal(StatusCode.BadIndexRangeNoData, _test.Read(profile, range: "5").Status);
        Assert.Equal(StatusCode.BadIndexRangeInvalid, _test.Read(profile, range: "2:1").Status);
        Assert.Equal("shift", TestSpace.Good(_test.Read(TestSpace.Signal("N-1/note"), range: "0:4")).AsString);
        Assert.Equal(["http://opcfoundation.org/UA/"], (string[])TestSpace.Good(_test.Read(new NodeId(2255), range: "0")).Elements!);
        Assert.Equal(StatusCode.BadIndexRangeNoData, _test.Read(new NodeId(2259), range: "0").Status);
    }

    [Fact]
    public void Contract_point_13_user_access_level_is_that_of_the_caller()
    {
        NodeId note = TestSpace.Signal("N-1/note");
        Assert.Equal(new Variant((byte)3), TestSpace.Good(_test.Read(note, AttributeId.AccessLevel)));

        // Bit 10: only whole values are written (AccessLevelExType, OPC 10000-3, 8.58).
        Assert.Equal(new Variant(0x403u), TestSpace.Good(_test.Read(note, AttributeId.AccessLevelEx)));
        Assert.Equal(new Variant((byte)1), TestSpace.Good(_test.Read(note, AttributeId.UserAccessLevel)));
        Assert.Equal(new Variant((byte)3), TestSpace.Good(_test.Read(note, AttributeId.UserAccessLevel, caller: TestSpace.Operator)));
    }

    [Fact]
    public void A_caller_without_a_role_reads_no_value_but_finds_the_node()
    {
        var nobody = new CallerContext();
        Assert.Equal(StatusCode.BadUserAccessDenied, _test.Read(TestSpace.Signal("N-1/note"), caller: nobody).Status);
        Assert.Equal(StatusCode.Good, _test.Read(TestSpace.Signal("N-1/note"), AttributeId.BrowseName, caller: nobody).Status);
    }

    [Fact]
    public void Reading_numbers_allocates_nothing_per_value()
    {
        string[] paths = [.. Enumerable.Repeat("N-1/outlet", 50), .. Enumerable.Repeat("A-1/flow", 50)];
        _test.Variable("N-1/outlet").Set(new Variant(612.5), Measured);
        _test.Variable("A-1/flow").Set(new Variant(41.5), Measured);
        ReadRequest request = Request(paths);
        _ = request.RequestHeader.RequestHandle;
        using var writer = new UaWriter(startBytes: 65_536);
        ServiceContext context = _test.Context();
        Repeat(context, request, writer, 100);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Repeat(context, request, writer, 100);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static void Repeat(in ServiceContext context, ReadRequest request, UaWriter writer, int times)
    {
        for (int i = 0; i < times; i++)
        {
            writer.Clear();
            if (ReadService.Respond(context, request, writer) != StatusCode.Good)
            {
                throw new InvalidOperationException("not answered");
            }
        }
    }

    private static ReadRequest Request(params string[] paths) => new()
    {
        TimestampsToReturn = TimestampsToReturn.Both,
        NodesToRead = [.. paths.Select(path => new ReadValueId { NodeId = TestSpace.Signal(path), AttributeId = (uint)AttributeId.Value })],
    };

    private DataValue[] Respond(ReadRequest request)
    {
        using var writer = new UaWriter();
        Assert.Equal(StatusCode.Good, ReadService.Respond(_test.Context(), request, writer));
        Assert.Equal(StatusCode.Good, ServiceMessage.TryReadResponse(writer.Written, UaLimits.Default, out IServiceResponse? response));
        return ((ReadResponse)response!).Results!;
    }

    private StatusCode Refused(ReadRequest request)
    {
        using var writer = new UaWriter();
        StatusCode status = ReadService.Respond(_test.Context(), request, writer);
        Assert.Equal(0, writer.Length);
        return status;
    }
}
