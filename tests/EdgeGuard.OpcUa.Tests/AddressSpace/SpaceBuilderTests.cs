using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Tests.AddressSpace;

/// <summary>Nodes of the plant: units (OPC 10000-8, 5.6.4.4 with UNECE Recommendation 20), ranges, states, methods.</summary>
public sealed class SpaceBuilderTests
{
    private readonly TestSpace _test = new();

    // UNITS table of the OPC Foundation (UNECE_to_OPCUA.csv): sign, code, UnitId; recomputed from the codes.
    [Theory]
    [InlineData("°C", "CEL", 4408652)]
    [InlineData("K", "KEL", 4932940)]
    [InlineData("K/min", "F11", 4600113)]
    [InlineData("K/s", "F12", 4600114)]
    [InlineData("°C/min", "H13", 4731187)]
    [InlineData("W", "WTT", 5723220)]
    [InlineData("kW", "KWT", 4937556)]
    [InlineData("kWh", "KWH", 4937544)]
    [InlineData("kg/h", "E93", 4536627)]
    [InlineData("kg/s", "KGS", 4933459)]
    [InlineData("Nm³/h", "Q40", 5321776)]
    [InlineData("Sm³/h", "Q38", 5321528)]
    [InlineData("m³/h", "MQH", 5067080)]
    [InlineData("%", "P1", 20529)]
    [InlineData("MΩ", "B75", 4339509)]
    [InlineData("kΩ", "B49", 4338745)]
    [InlineData("Ω", "OHM", 5195853)]
    [InlineData("V", "VLT", 5655636)]
    [InlineData("mV", "2Z", 12890)]
    [InlineData("A", "AMP", 4279632)]
    [InlineData("mA", "4K", 13387)]
    [InlineData("bar", "BAR", 4342098)]
    [InlineData("mbar", "MBR", 5063250)]
    [InlineData("kPa", "KPA", 4935745)]
    [InlineData("Pa", "PAL", 5259596)]
    [InlineData("h", "HUR", 4740434)]
    [InlineData("min", "MIN", 5065038)]
    [InlineData("s", "SEC", 5457219)]
    [InlineData("ms", "C26", 4403766)]
    [InlineData("Hz", "HTZ", 4740186)]
    [InlineData("1", "C62", 4404786)]
    public void Units_have_the_number_of_their_code(string sign, string code, int unitId)
    {
        Assert.Equal(unitId, UnitCodes.UnitId(code));
        EUInformation unit = UnitCodes.FromSign(sign);
        Assert.Equal(unitId, unit.UnitId);
        Assert.Equal(sign, unit.DisplayName.Text);
        Assert.Equal("http://www.opcfoundation.org/UA/units/un/cefact", unit.NamespaceUri);
    }

    [Fact]
    public void A_unit_without_a_code_keeps_its_sign_and_has_no_number()
    {
        EUInformation unit = UnitCodes.FromSign("pellets/h");
        Assert.Equal(-1, unit.UnitId);
        Assert.Equal("pellets/h", unit.DisplayName.Text);
        Assert.Equal(4404786, UnitCodes.FromSign("").UnitId);
    }

    [Fact]
    public void A_signal_with_a_range_carries_unit_range_and_definition()
    {
        VariableNode outlet = _test.Variable("N-1/outlet");
        Assert.True(outlet.TypeDefinition!.NodeId.IsStandard(17570));
        OpcUa.Messages.Range range = TestSpace.Decoded<OpcUa.Messages.Range>(TestSpace.Good(_test.Read(TestSpace.Signal("N-1/outlet/EURange"))));
        Assert.Equal((-50.0, 1200.0), (range.Low, range.High));
        EUInformation unit = TestSpace.Decoded<EUInformation>(TestSpace.Good(_test.Read(TestSpace.Signal("N-1/outlet/EngineeringUnits"))));
        Assert.Equal(4408652, unit.UnitId);
        Assert.Equal("input register 2, float32", TestSpace.Good(_test.Read(TestSpace.Signal("N-1/outlet/Definition"))).AsString);
    }

    [Fact]
    public void A_signal_without_a_range_has_none()
    {
        Assert.True(_test.Variable("N-1/flow").TypeDefinition!.NodeId.IsStandard(17497));
        Assert.Null(_test.Space.Find(TestSpace.Signal("N-1/flow/EURange")));
    }

    // OPC 10000-8: mandatory properties of each type, looked up in the table by their modelling rule 78 (Mandatory).
    [Theory]
    [InlineData("N-1/outlet")]
    [InlineData("N-1/flow")]
    [InlineData("N-1/enable")]
    [InlineData("N-1/mode")]
    [InlineData("N-1/trip")]
    public void Every_mandatory_property_of_the_type_is_there_with_the_declared_data_type(string path)
    {
        VariableNode variable = _test.Variable(path);
        int checkedProperties = 0;
        for (var type = variable.TypeDefinition as TypeNode; type is not null; type = type.SuperType)
        {
            foreach (Reference declaration in type.References)
            {
                if (declaration is { IsForward: true, Target: VariableNode declared } && declaration.Type.NodeId.IsStandard(StandardIds.HasProperty)
                    && declared.References.ToArray().Any(r => r.Target.NodeId.IsStandard(78)))
                {
                    VariableNode property = ServerObject.Child<VariableNode>(variable, declared.BrowseName.Name!);
                    Assert.Equal((declared.DataType, declared.ValueRank), (property.DataType, property.ValueRank));
                    checkedProperties++;
                }
            }
        }

        Assert.True(checkedProperties > 0);
    }

    [Fact]
    public void A_state_by_value_reads_as_text()
    {
        VariableNode trip = _test.Variable("N-1/trip");
        Assert.Equal(StatusCode.BadWaitingForInitialData, _test.Read(TestSpace.Signal("N-1/trip/ValueAsText")).Status);
        trip.Set(new Variant(10), TestSpace.Now);
        Assert.Equal("outlet high", TestSpace.Good(_test.Read(TestSpace.Signal("N-1/trip/ValueAsText"))).AsLocalizedText.Text);
        trip.Set(new Variant(11), TestSpace.Now);
        Assert.Null(TestSpace.Good(_test.Read(TestSpace.Signal("N-1/trip/ValueAsText"))).AsLocalizedText.Text);
    }

    [Fact]
    public void Contract_point_12_arguments_are_an_array_and_absent_when_there_are_none()
    {
        var reset = (MethodNode)_test.Space.Find(TestSpace.Signal("N-1/reset"))!;
        Argument argument = Assert.Single(reset.InputArguments);
        Assert.Equal(("person", new NodeId(12)), (argument.Name, argument.DataType));
        Assert.Empty(reset.OutputArguments);
        Assert.Equal(1, _test.Variable("N-1/reset/InputArguments").ValueRank);
        Assert.Null(_test.Space.Find(TestSpace.Signal("N-1/reset/OutputArguments")));
    }

    [Fact]
    public void Contract_point_12_executable_follows_the_handler_and_the_role()
    {
        NodeId reset = TestSpace.Signal("N-1/reset");
        Assert.True(TestSpace.Good(_test.Read(reset, AttributeId.Executable)).AsBoolean);
        Assert.False(TestSpace.Good(_test.Read(reset, AttributeId.UserExecutable)).AsBoolean);
        Assert.True(TestSpace.Good(_test.Read(reset, AttributeId.UserExecutable, caller: TestSpace.Operator)).AsBoolean);
        Assert.False(TestSpace.Good(_test.Read(new NodeId(11492), AttributeId.Executable)).AsBoolean);
        Assert.False(TestSpace.Good(_test.Read(new NodeId(11492), AttributeId.UserExecutable)).AsBoolean);
    }

    [Fact]
    public void Arguments_of_standard_methods_are_known()
    {
        MethodNode getMonitoredItems = _test.Space.Standard<MethodNode>(11492);
        Assert.Equal(["SubscriptionId"], getMonitoredItems.InputArguments.Select(a => a.Name));
        Assert.Equal(["ServerHandles", "ClientHandles"], getMonitoredItems.OutputArguments.Select(a => a.Name));
        Assert.Equal(["EventId", "Comment"], _test.Space.Standard<MethodNode>(9111).InputArguments.Select(a => a.Name));
    }

    [Fact]
    public void Text_identifiers_are_known_to_the_decoder()
    {
        KnownTexts known = _test.Space.KnownTexts();
        Assert.Same(TestText("N-1/outlet"), known.Find("N-1/outlet"u8));
        Assert.Null(known.Find("N-1/outlets"u8));
    }

    private string? TestText(string path) => _test.Variable(path).NodeId.Text;

    [Fact]
    public void A_NodeId_cannot_be_given_twice()
    {
        var again = new VariableSpec("N-1/flow", "other", new NodeId(StandardIds.Double));
        var error = Assert.Throws<InvalidOperationException>(() => _test.Builder.AddVariable(_test.Builder.Objects, again));
        Assert.Contains("ns=2;s=N-1/flow", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("N-1", "A-1/outlet")]
    [InlineData("A-1/outlet", "N-1")]
    public void A_reference_is_held_once_by_both_nodes(string from, string to)
    {
        (Node source, Node target) = (_test.Space.Find(TestSpace.Signal(from))!, _test.Space.Find(TestSpace.Signal(to))!);
        ReferenceTypeNode type = _test.Space.Standard<ReferenceTypeNode>(StandardIds.HasEventSource);
        _test.Space.AddReference(source, type, target);
        _test.Space.AddReference(source, type, target);
        Assert.Single(source.References.ToArray(), new Reference(type, true, target));
        Assert.Single(target.References.ToArray(), new Reference(type, false, source));
    }

    [Fact]
    public void A_removed_node_leaves_no_reference_behind()
    {
        int count = _test.Space.Count;
        ObjectNode session = _test.Builder.AddObject(_test.Space.Standard<ObjectNode>(3706), "session/7", "session 7", new NodeId(2029));
        Assert.Equal(count + 1, _test.Space.Count);
        Assert.True(_test.Space.Remove(session));
        Assert.False(_test.Space.Remove(session));
        Assert.Equal(count, _test.Space.Count);
        Assert.Null(_test.Space.Find(session.NodeId));
        Assert.All(_test.Space.Snapshot(), node => Assert.DoesNotContain(node.References.ToArray(), r => ReferenceEquals(r.Target, session)));
    }
}
