using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Services;
using EdgeGuard.OpcUa.Tests.AddressSpace;

namespace EdgeGuard.OpcUa.Tests.Attribute;

/// <summary>Write: refusals in the order of their reasons (OPC 10000-4, 5.11.4), and what is taken.</summary>
public sealed class WriteTests
{
    private readonly TestSpace _test = new();

    [Fact]
    public void An_operator_writes_what_operators_may()
    {
        Assert.Equal(StatusCode.Good, Write(TestSpace.Operator, Value("N-1/note", new Variant("checked"))));
        Assert.Equal("checked", _test.Written!.Value.Value.AsString);
        Assert.Equal("checked", TestSpace.Good(_test.Read(TestSpace.Signal("N-1/note"))).AsString);
    }

    [Fact]
    public void A_reader_is_refused_and_nothing_is_written()
    {
        Assert.Equal(StatusCode.BadUserAccessDenied, Write(CallerContext.AnonymousReader, Value("N-1/note", new Variant("x"))));
        Assert.Null(_test.Written);
        Assert.Equal("shift note", TestSpace.Good(_test.Read(TestSpace.Signal("N-1/note"))).AsString);
    }

    [Fact]
    public void Signals_and_the_servers_own_nodes_are_not_writable_by_anyone()
    {
        var admin = new CallerContext { Roles = CallerRoles.Any };
        Assert.Equal(StatusCode.BadNotWritable, Write(admin, Value("N-1/outlet", new Variant(1.0))));
        Assert.Equal(StatusCode.BadNotWritable, Write(admin, new WriteValue { NodeId = new NodeId(2294), AttributeId = 13, Value = new DataValue(new Variant(true)) }));
    }

    [Theory]
    [InlineData("nothing", 13, StatusCode.BadNodeIdUnknown)]
    [InlineData("N-1/note", 4, StatusCode.BadNotWritable)]
    [InlineData("N-1/note", 99, StatusCode.BadAttributeIdInvalid)]
    [InlineData("N-1", 13, StatusCode.BadAttributeIdInvalid)]
    public void Other_nodes_and_attributes_are_refused(string path, uint attribute, StatusCode expected)
    {
        WriteValue write = Value(path, new Variant("x"));
        write.AttributeId = attribute;
        Assert.Equal(expected, Write(TestSpace.Operator, write));
    }

    [Theory]
    [InlineData("1:0", StatusCode.BadIndexRangeInvalid)]
    [InlineData("0:1", StatusCode.BadWriteNotSupported)]
    public void Parts_cannot_be_written(string range, StatusCode expected)
    {
        WriteValue write = Value("N-1/note", new Variant("x"));
        write.IndexRange = range;
        Assert.Equal(expected, Write(TestSpace.Operator, write));
    }

    [Fact]
    public void Values_of_another_type_or_rank_are_refused()
    {
        Assert.Equal(StatusCode.BadTypeMismatch, Write(TestSpace.Operator, Value("N-1/note", new Variant(1.0))));
        Assert.Equal(StatusCode.BadTypeMismatch, Write(TestSpace.Operator, Value("N-1/note", default)));
        Assert.Equal(StatusCode.BadTypeMismatch, Write(TestSpace.Operator, Value("N-1/note", Variant.FromArray(BuiltInType.String, new[] { "a" }))));
        Assert.Null(_test.Written);
    }

    [Fact]
    public void Status_and_time_are_not_taken_from_a_client()
    {
        WriteValue write = Value("N-1/note", new Variant("x"));
        write.Value = write.Value with { SourceTimestamp = TestSpace.Now };
        Assert.Equal(StatusCode.BadWriteNotSupported, Write(TestSpace.Operator, write));
        write.Value = new DataValue(new Variant("x"), StatusCode.UncertainInitialValue);
        Assert.Equal(StatusCode.BadWriteNotSupported, Write(TestSpace.Operator, write));
    }

    [Fact]
    public void Contract_point_5_limits_are_obeyed()
    {
        _test.Limits = new OperationLimits { NodesPerWrite = 1 };
        WriteValue one = Value("N-1/note", new Variant("x"));
        Assert.Equal(StatusCode.BadTooManyOperations, Fault([one, one]));
        Assert.Equal(StatusCode.BadNothingToDo, Fault([]));
        Assert.Null(_test.Written);
    }

    // OPC 10000-3: data types and the built-in types that carry them.
    [Theory]
    [InlineData(24, BuiltInType.Variant)]
    [InlineData(29, BuiltInType.Int32)]
    [InlineData(852, BuiltInType.Int32)]
    [InlineData(290, BuiltInType.Double)]
    [InlineData(294, BuiltInType.DateTime)]
    [InlineData(288, BuiltInType.UInt32)]
    [InlineData(296, BuiltInType.ExtensionObject)]
    [InlineData(28, BuiltInType.Variant)]
    [InlineData(99999, BuiltInType.Null)]
    public void Data_types_come_down_to_built_in_types(uint dataType, BuiltInType expected)
    {
        Assert.Equal(expected, DataTypes.BuiltIn(_test.Space, new NodeId(dataType)));
    }

    [Theory]
    [InlineData(26, true)]
    [InlineData(27, false)]
    [InlineData(11, true)]
    [InlineData(290, true)]
    [InlineData(10, false)]
    [InlineData(24, true)]
    [InlineData(12, false)]
    public void A_Double_is_taken_where_its_type_allows_it(uint dataType, bool taken)
    {
        Assert.Equal(taken, DataTypes.Accepts(_test.Space, new NodeId(dataType), -1, new Variant(1.0)));
    }

    // OPC 10000-3, 5.6.2: the meaning of ValueRank, against values of no, one, two and three dimensions.
    [Theory]
    [InlineData(-3, true, true, false, false)]
    [InlineData(-2, true, true, true, true)]
    [InlineData(-1, true, false, false, false)]
    [InlineData(0, false, true, true, true)]
    [InlineData(1, false, true, false, false)]
    [InlineData(2, false, false, true, false)]
    public void A_rank_says_how_many_dimensions_are_taken(int rank, bool scalar, bool one, bool two, bool three)
    {
        double[] eight = new double[8];
        Variant[] values = [new Variant(1.0), Variant.FromArray(BuiltInType.Double, eight), Variant.FromMatrix(BuiltInType.Double, eight, [2, 4]), Variant.FromMatrix(BuiltInType.Double, eight, [2, 2, 2])];
        Assert.Equal([scalar, one, two, three], values.Select(value => DataTypes.Accepts(_test.Space, new NodeId(11), rank, value)));
    }

    private static WriteValue Value(string path, Variant value) => new() { NodeId = TestSpace.Signal(path), AttributeId = (uint)AttributeId.Value, Value = new DataValue(value) };

    private StatusCode Write(CallerContext caller, WriteValue write) =>
        Assert.Single(Assert.IsType<WriteResponse>(WriteService.Respond(_test.Context(caller), new WriteRequest { NodesToWrite = [write] })).Results!);

    private StatusCode Fault(WriteValue[] writes) =>
        Assert.IsType<ServiceFault>(WriteService.Respond(_test.Context(TestSpace.Operator), new WriteRequest { NodesToWrite = writes })).ResponseHeader.ServiceResult;
}
