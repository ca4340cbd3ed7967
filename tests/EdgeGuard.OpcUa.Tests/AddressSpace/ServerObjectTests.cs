using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Tests.AddressSpace;

/// <summary>What clients read first (contract point 5); numbers of the nodes from NodeIds.csv of the standard.</summary>
public sealed class ServerObjectTests
{
    private readonly TestSpace _test = new();

    [Fact]
    public void Contract_point_5_arrays_are_good_and_agree_with_the_application_uri()
    {
        Assert.Equal([TestSpace.ApplicationUri], (string[])_test.Value(2254).Elements!);
        Assert.Equal(["http://opcfoundation.org/UA/", TestSpace.ApplicationUri, "urn:edgeguard:plant"], (string[])_test.Value(2255).Elements!);
    }

    [Fact]
    public void Contract_point_5_status_is_a_structure_and_its_parts_agree_with_it()
    {
        ServerStatusDataType status = TestSpace.Decoded<ServerStatusDataType>(_test.Value(2256));
        Assert.Equal(TestSpace.Start, status.StartTime);
        Assert.Equal(TestSpace.Now, status.CurrentTime);
        Assert.Equal(ServerState.Running, status.State);
        Assert.Equal("0.1.0", status.BuildInfo.SoftwareVersion);
        Assert.Equal(TestSpace.Start, _test.Value(2257).AsDateTime);
        Assert.Equal(TestSpace.Now, _test.Value(2258).AsDateTime);
        Assert.Equal(new Variant(0), _test.Value(2259));
        Assert.Equal("EdgeGuard", TestSpace.Decoded<BuildInfo>(_test.Value(2260)).ProductName);
        Assert.Equal("EdgeGuard", _test.Value(2261).AsString);
        Assert.Equal("0.1.0", _test.Value(2264).AsString);
        Assert.Equal(new Variant(0u), _test.Value(2992));
    }

    [Fact]
    public void Contract_point_5_service_level_is_a_Byte_and_auditing_a_Boolean()
    {
        Assert.Equal(new Variant((byte)255), _test.Value(2267));
        Assert.Equal(new Variant(false), _test.Value(2994));
    }

    // NodeIds.csv: OperationLimits of ServerCapabilities.
    [Theory]
    [InlineData(11705, 10_000)]
    [InlineData(12165, 100)]
    [InlineData(12166, 10)]
    [InlineData(11707, 1_000)]
    [InlineData(12167, 0)]
    [InlineData(12168, 0)]
    [InlineData(11709, 100)]
    [InlineData(11710, 2_000)]
    [InlineData(11711, 10_000)]
    [InlineData(11712, 2_000)]
    [InlineData(11713, 0)]
    [InlineData(11714, 10_000)]
    [InlineData(11702, 65_536)]
    [InlineData(11703, 65_536)]
    [InlineData(12911, 1_048_576)]
    public void Contract_point_5_limits_are_announced_as_UInt32(uint node, uint limit)
    {
        Assert.Equal(new Variant(limit), _test.Value(node));
    }

    [Fact]
    public void Contract_point_5_capabilities_are_good()
    {
        Assert.Equal(["en"], (string[])_test.Value(2271).Elements!);
        Assert.Equal(new Variant(50.0), _test.Value(2272));
        Assert.Equal(new Variant((ushort)10), _test.Value(2735));
        Assert.Equal(ServerProfiles.Announced, (string[])_test.Value(2269).Elements!);
    }

    [Fact]
    public void Every_variable_below_Server_is_good_for_a_security_administrator()
    {
        var admin = new CallerContext { Roles = CallerRoles.Any };
        Queue<Node> queue = new([_test.Space.Find(new NodeId(StandardIds.Server))!]);
        int variables = 0;
        while (queue.TryDequeue(out Node? node))
        {
            if (node is VariableNode variable)
            {
                variables++;
                DataValue value = _test.Read(node.NodeId, caller: admin);
                Assert.True(value.Status == StatusCode.Good && !value.Value.IsNull, $"{node}: {value.Status}, {value.Value.Type}");
                Assert.True(OpcUa.Services.DataTypes.Accepts(_test.Space, variable.DataType, variable.ValueRank, value.Value), $"{node} has a {value.Value.Type} {value.Value.Shape}");
            }

            foreach (Reference reference in node.References)
            {
                if (reference.IsForward && reference.Type.NodeId.Number is StandardIds.HasProperty or StandardIds.HasComponent && reference.Target.NodeId.NamespaceIndex == 0 && reference.IsForward)
                {
                    queue.Enqueue(reference.Target);
                }
            }
        }

        Assert.InRange(variables, 60, 120);
    }

    [Fact]
    public void Diagnostics_that_are_not_kept_are_not_readable_and_the_flag_says_so()
    {
        Assert.Equal(new Variant(true), _test.Value(2294));
        Assert.Equal(3u, TestSpace.Decoded<ServerDiagnosticsSummaryDataType>(_test.Value(2275)).CurrentSessionCount);
        Assert.Equal(new Variant(3u), _test.Value(2277));
        _test.DiagnosticsSummary = null;
        Assert.Equal(new Variant(false), _test.Value(2294));
        Assert.Equal(StatusCode.BadNotReadable, _test.Read(new NodeId(2275)).Status);
        Assert.Equal(StatusCode.BadNotReadable, _test.Read(new NodeId(2277)).Status);
    }

    [Fact]
    public void Security_diagnostics_of_other_sessions_are_for_security_administrators()
    {
        Assert.Equal(StatusCode.BadUserAccessDenied, _test.Read(new NodeId(3708), caller: TestSpace.Operator).Status);
        Assert.Equal(StatusCode.Good, _test.Read(new NodeId(3708), caller: new CallerContext { Roles = CallerRoles.SecurityAdmin }).Status);
    }
}
