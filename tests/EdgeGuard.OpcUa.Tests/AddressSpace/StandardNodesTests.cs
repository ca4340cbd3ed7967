using System.Diagnostics;
using System.Globalization;
using System.Reflection;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Tests.AddressSpace;

/// <summary>
/// Namespace 0 against the source nodeset (counts), NodeIds.csv of the standard (numbers and names, OPC 10000-6 annex A)
/// and the generated messages, which come from another file of the standard (Opc.Ua.Types.bsd).
/// </summary>
public sealed class StandardNodesTests
{
    private static readonly TestSpace Shared = new();

    private static Dictionary<string, string> Counts { get; } = File.ReadLines(RepoFile.Path("tests/EdgeGuard.OpcUa.Tests/AddressSpace/nodeset-counts.csv"))
        .Where(line => !line.StartsWith('#')).Skip(1).Select(line => line.Split(',')).ToDictionary(row => row[0], row => row[1]);

    // The second figure: rows of the class in NodeIds.csv as carried by node-opcua-constants 2.181.0; of the data types
    // that file also lists those of service messages, which are not nodes of the nodeset.
    [Theory]
    [InlineData("UAObjectType", NodeClass.ObjectType, 281)]
    [InlineData("UAVariableType", NodeClass.VariableType, 64)]
    [InlineData("UAReferenceType", NodeClass.ReferenceType, 80)]
    [InlineData("UADataType", NodeClass.DataType, null)]
    public void Contract_point_6_all_types_of_the_nodeset_are_there(string element, NodeClass nodeClass, int? listed)
    {
        int found = Shared.Space.Snapshot().Count(node => node.NodeClass == nodeClass && node.NodeId.NamespaceIndex == 0);
        Assert.Equal(int.Parse(Counts[element], CultureInfo.InvariantCulture), found);
        Assert.Equal(listed ?? found, found);
        Assert.Equal(Counts["version"], Shared.Version);
    }

    // NodeIds.csv, as published by the OPC Foundation.
    [Theory]
    [InlineData(2915, "AlarmConditionType")]
    [InlineData(2881, "AcknowledgeableConditionType")]
    [InlineData(2782, "ConditionType")]
    [InlineData(10637, "OffNormalAlarmType")]
    [InlineData(10751, "TripAlarmType")]
    [InlineData(11753, "SystemOffNormalAlarmType")]
    [InlineData(17080, "DiscrepancyAlarmType")]
    [InlineData(18347, "InstrumentDiagnosticAlarmType")]
    [InlineData(18496, "SystemDiagnosticAlarmType")]
    [InlineData(9341, "ExclusiveLimitAlarmType")]
    [InlineData(9482, "ExclusiveLevelAlarmType")]
    [InlineData(9623, "ExclusiveRateOfChangeAlarmType")]
    [InlineData(9764, "ExclusiveDeviationAlarmType")]
    [InlineData(9906, "NonExclusiveLimitAlarmType")]
    [InlineData(13225, "CertificateExpirationAlarmType")]
    [InlineData(19297, "TrustListOutOfDateAlarmType")]
    [InlineData(16405, "AlarmGroupType")]
    [InlineData(32064, "AlarmSuppressionGroupType")]
    [InlineData(11164, "ProcessConditionClassType")]
    [InlineData(11165, "MaintenanceConditionClassType")]
    [InlineData(11166, "SystemConditionClassType")]
    [InlineData(17218, "SafetyConditionClassType")]
    [InlineData(17219, "HighlyManagedAlarmConditionClassType")]
    [InlineData(17221, "TestingConditionClassType")]
    [InlineData(15013, "AuditConditionResetEventType")]
    [InlineData(8944, "AuditConditionAcknowledgeEventType")]
    [InlineData(11093, "AuditConditionShelvingEventType")]
    [InlineData(17279, "AlarmMetricsType")]
    [InlineData(3035, "EventQueueOverflowEventType")]
    [InlineData(17497, "AnalogUnitType")]
    [InlineData(17570, "AnalogUnitRangeType")]
    [InlineData(2368, "AnalogItemType")]
    [InlineData(2373, "TwoStateDiscreteType")]
    public void Numbers_of_types_are_those_of_the_standard(uint number, string name)
    {
        Assert.Equal(name, Assert.IsAssignableFrom<TypeNode>(Shared.Space.Find(new NodeId(number))).BrowseName.Name);
    }

    [Theory]
    [InlineData(18190, "LatchedState", 2915)]
    [InlineData(18199, "Reset", 2915)]
    [InlineData(24324, "Reset2", 2915)]
    [InlineData(16397, "FirstInGroupFlag", 2915)]
    [InlineData(16398, "FirstInGroup", 2915)]
    [InlineData(3875, "ConditionRefresh", 2782)]
    [InlineData(12912, "ConditionRefresh2", 2782)]
    [InlineData(9111, "Acknowledge", 2881)]
    [InlineData(9113, "Confirm", 2881)]
    public void Numbers_of_members_are_those_of_the_standard(uint number, string name, uint owner)
    {
        Node member = Shared.Space.Find(new NodeId(number))!;
        Assert.Equal(name, member.BrowseName.Name);
        Assert.Contains(member.References.ToArray(), reference => !reference.IsForward && reference.Target.NodeId.IsStandard(owner));
    }

    // Contract point 7; NodeIds.csv: DataType and its Default Binary encoding.
    [Theory]
    [InlineData(884, 886, OpcUa.Messages.Range.BinaryId)]
    [InlineData(887, 889, EUInformation.BinaryId)]
    [InlineData(296, 298, Argument.BinaryId)]
    [InlineData(862, 864, ServerStatusDataType.BinaryId)]
    [InlineData(338, 340, BuildInfo.BinaryId)]
    public void Contract_point_7_binary_encodings_belong_to_their_types(uint dataType, uint encoding, uint written)
    {
        Assert.Equal(encoding, written);
        Node node = Shared.Space.Find(new NodeId(dataType))!;
        Reference reference = Assert.Single(node.References.ToArray(), r => r.Type.NodeId.IsStandard(StandardIds.HasEncoding) && r.Target.BrowseName.Name == "Default Binary");
        Assert.Equal(new NodeId(encoding), reference.Target.NodeId);
    }

    [Fact]
    public void Generated_structures_agree_with_the_definitions_in_the_table()
    {
        int compared = 0;
        foreach (Type type in typeof(ReadRequest).Assembly.GetTypes().Where(t => t.GetField("BinaryId") is not null))
        {
            DataTypeNode? node = Shared.Space.Snapshot().OfType<DataTypeNode>().SingleOrDefault(n => n.BrowseName.Name == type.Name && n.Definition is not null);
            if (node is null)
            {
                continue;
            }

            StructureDefinition definition = TestSpace.Decoded<StructureDefinition>(new Variant(node.Definition));
            Assert.Equal((uint)type.GetField("BinaryId")!.GetRawConstantValue()!, definition.DefaultEncodingId.Number);
            string[] properties = [.. type.GetProperties(BindingFlags.Instance | BindingFlags.Public).Where(p => p.CanWrite).Select(p => p.Name)];
            Assert.Equal(properties, definition.Fields!.Select(field => field.Name));
            compared++;
        }

        Assert.True(compared > 40, $"only {compared} structures stand in both sources");
    }

    [Fact]
    public void Contract_point_6_every_reference_has_its_inverse()
    {
        int forward = 0;
        foreach (Node node in Shared.Space.Snapshot())
        {
            foreach (Reference reference in node.References)
            {
                forward += reference.IsForward && node.NodeId.NamespaceIndex == 0 && reference.Target.NodeId.NamespaceIndex == 0 ? 1 : 0;
                Assert.Equal(1, Count(reference.Target, new Reference(reference.Type, !reference.IsForward, node)));
                Assert.Same(reference.Target, Shared.Space.Find(reference.Target.NodeId));
            }
        }

        Assert.Equal(int.Parse(Counts["references"], CultureInfo.InvariantCulture), forward);
    }

    [Fact]
    public void Contract_point_6_every_definition_decodes()
    {
        int definitions = 0;
        foreach (DataTypeNode node in Shared.Space.Snapshot().OfType<DataTypeNode>().Where(node => node.Definition is not null))
        {
            definitions++;
            if (node.Definition!.Is<EnumDefinition>())
            {
                Assert.All(TestSpace.Decoded<EnumDefinition>(new Variant(node.Definition)).Fields!, field => Assert.NotEmpty(field.Name!));
                continue;
            }

            StructureDefinition structure = TestSpace.Decoded<StructureDefinition>(new Variant(node.Definition));
            Assert.Equal(node.SuperType!.NodeId, structure.BaseDataType);
            Assert.All(structure.Fields!, field => Assert.IsType<DataTypeNode>(Shared.Space.Find(field.DataType)));
            Assert.True(node.IsAbstract || !structure.DefaultEncodingId.IsNull, $"{node} is concrete and has no encoding");
        }

        Assert.True(definitions >= int.Parse(Counts["definition"], CultureInfo.InvariantCulture), $"{definitions} definitions");
    }

    // OPC 10000-5, table of ServerState: 0 Running to 7 Unknown.
    [Fact]
    public void Contract_point_6_enumerations_carry_their_texts()
    {
        DataTypeNode state = Shared.Space.Standard<DataTypeNode>(852);
        string[] expected = ["Running", "Failed", "NoConfiguration", "Suspended", "Shutdown", "Test", "CommunicationFault", "Unknown"];
        VariableNode strings = ServerObject.Child<VariableNode>(state, "EnumStrings");
        strings.Sample(out DataValue value);
        Assert.Equal(expected, ((LocalizedText[])value.Value.Elements!).Select(text => text.Text!));
        EnumDefinition definition = TestSpace.Decoded<EnumDefinition>(new Variant(state.Definition));
        Assert.Equal(expected, definition.Fields!.Select(field => field.Name!));
        Assert.Equal(Enumerable.Range(0, 8).Select(i => (long)i), definition.Fields!.Select(field => field.Value));
        Assert.Equal(Enum.GetNames<ServerState>(), expected);
    }

    [Fact]
    public void Every_node_can_be_reached_from_Root()
    {
        HashSet<Node> seen = [Shared.Space.Find(new NodeId(StandardIds.RootFolder))!];
        Queue<Node> queue = new(seen);
        while (queue.TryDequeue(out Node? node))
        {
            foreach (Reference reference in node.References)
            {
                if (reference.IsForward && seen.Add(reference.Target))
                {
                    queue.Enqueue(reference.Target);
                }
            }
        }

        Assert.Equal(Shared.Space.Count, seen.Count);
    }

    [Fact]
    public void Every_instance_has_a_type_and_every_type_but_the_roots_a_supertype()
    {
        foreach (Node node in Shared.Space.Snapshot())
        {
            bool isInstance = node is ObjectNode or VariableNode;
            Assert.True(!isInstance || node.TypeDefinition is TypeNode, $"{node} has no type");
            bool isRoot = node.NodeId is { NamespaceIndex: 0, Number: 24 or 31 or 58 or 62 };
            Assert.True(node is not TypeNode { SuperType: null } || isRoot, $"{node} has no supertype");
        }
    }

    [Fact]
    public void The_table_loads_in_less_than_100_ms()
    {
        TimeSpan best = TimeSpan.MaxValue;
        for (int i = 0; i < 5; i++)
        {
            long start = Stopwatch.GetTimestamp();
            StandardNodes.Load(new NodeSpace());
            TimeSpan took = Stopwatch.GetElapsedTime(start);
            best = took < best ? took : best;
        }

        Assert.True(best.TotalMilliseconds < 100, $"best of five: {best.TotalMilliseconds} ms");
    }

    private static int Count(Node node, Reference wanted)
    {
        int count = 0;
        foreach (Reference reference in node.References)
        {
            count += reference == wanted ? 1 : 0;
        }

        return count;
    }
}
