using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Services;
using EdgeGuard.OpcUa.Tests.AddressSpace;

namespace EdgeGuard.OpcUa.Tests.Profiles;

/// <summary>AccessLevelExType (OPC 10000-3, 8.58): bits 0 to 7 are AccessLevel, 8 and 9 tell reads and writes in parts, 10 that only whole values are written.</summary>
public sealed class AtomicityTests
{
    private const uint AccessLevelBits = 0xFF;
    private const uint WriteFullArrayOnly = 0x400;

    [Fact]
    public void Every_variable_says_that_it_is_read_whole_and_written_whole_only()
    {
        var space = new TestSpace();
        var context = new ServiceContext(space.Space, TestSpace.Operator, TestSpace.Now, space.Limits);
        (int writable, int readOnly) = (0, 0);
        foreach (VariableNode variable in space.Space.Snapshot().OfType<VariableNode>())
        {
            DataValue told = AttributeReader.Read(context, new ReadValueId { NodeId = variable.NodeId, AttributeId = (uint)AttributeId.AccessLevelEx });
            bool isWritable = (variable.AccessLevel & AccessLevels.CurrentWrite) != AccessLevels.None;
            Assert.Equal(((uint)variable.AccessLevel & AccessLevelBits) | (isWritable ? WriteFullArrayOnly : 0), (uint)told.Value.AsInteger);
            writable += isWritable ? 1 : 0;
            readOnly += isWritable ? 0 : 1;
        }

        Assert.True(writable > 0 && readOnly > 1_000, $"{writable} and {readOnly}");
    }
}
