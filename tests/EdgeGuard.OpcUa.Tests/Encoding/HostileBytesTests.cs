using CsCheck;
using static EdgeGuard.OpcUa.Tests.Wire;

namespace EdgeGuard.OpcUa.Tests.Encoding;

/// <summary>No input throws, and none makes the decoder spend memory on what was only declared.</summary>
public sealed class HostileBytesTests
{
    private static readonly UaLimits Tight = new() { StringBytesMax = 100, ByteStringBytesMax = 200, ArrayLengthMax = 50, DecodedBytesMax = 10_000 };

    [Theory]
    [InlineData("FFFFFF7F", StatusCode.BadEncodingLimitsExceeded)] // 2 GiB declared
    [InlineData("65000000", StatusCode.BadEncodingLimitsExceeded)] // 101 bytes, one over the limit
    [InlineData("64000000", StatusCode.BadDecodingError)] // within the limit, but the bytes are not there
    [InlineData("0100", StatusCode.BadDecodingError)] // the length itself is cut
    [InlineData("02000000C328", StatusCode.BadDecodingError)] // not UTF-8
    [InlineData("03000000EDA080", StatusCode.BadDecodingError)] // a surrogate in UTF-8
    public void Strings_that_lie_are_refused_with_a_reason_and_move_nothing(string hex, StatusCode expected)
    {
        var reader = new UaReader(Hex(hex), Tight);
        Assert.Null(reader.ReadString());
        Assert.Equal(expected, reader.Status);
        Assert.Equal(0, reader.ReadInt64());
        Assert.Equal(expected, reader.Status);
    }

    [Theory]
    [InlineData("8BFFFFFF7F", StatusCode.BadEncodingLimitsExceeded)] // array of 2^31-1 Doubles
    [InlineData("8B33000000", StatusCode.BadEncodingLimitsExceeded)] // 51, one over the limit
    [InlineData("8B020000000000000000000000", StatusCode.BadDecodingError)] // two declared, one sent
    [InlineData("4B0000000000000000", StatusCode.BadDecodingError)] // dimensions without an array
    [InlineData("18010000000B", StatusCode.BadDecodingError)] // scalar Variant in a Variant
    [InlineData("20", StatusCode.BadDecodingError)] // type 32
    [InlineData("C1010000000102000000010000000200000000", StatusCode.BadDecodingError)] // 1 element, dimensions 1 x 2
    [InlineData("C10100000001020000000000000000000000", StatusCode.BadDecodingError)] // dimensions 0 x 0
    [InlineData("C1010000000102000000FFFFFFFFFFFFFFFF", StatusCode.BadDecodingError)] // dimensions -1 x -1
    [InlineData("C101000000010400000000000080000000800000008000000080", StatusCode.BadDecodingError)] // a product of 2^124
    public void Variants_that_lie_are_refused_with_a_reason(string hex, StatusCode expected)
    {
        var reader = new UaReader(Hex(hex), Tight);
        Assert.True(reader.ReadVariant().IsNull);
        Assert.Equal(expected, reader.Status);
    }

    [Theory]
    [InlineData("06")] // NodeId form 6
    [InlineData("8000")] // a NodeId has no namespace URI
    [InlineData("FF")]
    public void A_NodeId_of_an_unknown_form_is_refused(string hex)
    {
        var reader = new UaReader(Hex(hex));
        reader.ReadNodeId();
        Assert.Equal(StatusCode.BadDecodingError, reader.Status);
        Assert.Equal(0, reader.Position);
    }

    [Fact]
    public void Nesting_is_served_to_one_hundred_and_refused_beyond()
    {
        Assert.False(Nested(99).Failed);
        Assert.Equal(StatusCode.BadEncodingLimitsExceeded, Nested(101).Status);
        Assert.Equal(StatusCode.BadEncodingLimitsExceeded, Nested(1_000_000).Status);

        byte[] diagnostics = new byte[1_000_000];
        diagnostics.AsSpan().Fill(0x40); // inner DiagnosticInfo in inner DiagnosticInfo ...
        var reader = new UaReader(diagnostics);
        reader.ReadDiagnosticInfo();
        Assert.Equal(StatusCode.BadEncodingLimitsExceeded, reader.Status);
    }

    [Fact]
    public void Memory_of_one_message_is_bounded_whatever_its_parts_allow()
    {
        // Each array is within its limit; together they pass the budget.
        byte[] bytes = Bytes(w =>
        {
            for (int i = 0; i < 100; i++)
            {
                w.WriteVariant(Variant.FromArray(BuiltInType.Double, new double[50]));
            }
        });
        var reader = new UaReader(bytes, Tight);
        int read = 0;
        while (!reader.Failed)
        {
            reader.ReadVariant();
            read++;
        }

        Assert.Equal(StatusCode.BadEncodingLimitsExceeded, reader.Status);
        Assert.InRange(read, 20, 25);
    }

    // 65 536 elements are within the limits; without their bytes they must cost nothing.
    [Theory]
    [InlineData("8B00000100")] // Double
    [InlineData("9700000100")] // DataValue
    [InlineData("8C00000100")] // String
    [InlineData("9600000100")] // ExtensionObject
    public void An_array_that_is_only_declared_costs_no_memory(string hex)
    {
        byte[] bytes = [.. Hex(hex), .. new byte[1_000]];
        var warm = new UaReader(bytes, UaLimits.Default);
        warm.ReadVariant();
        long before = GC.GetAllocatedBytesForCurrentThread();
        var reader = new UaReader(bytes, UaLimits.Default);
        reader.ReadVariant();
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(StatusCode.BadDecodingError, reader.Status);
    }

    [Fact]
    public void Random_bytes_never_throw_and_stay_within_the_memory_budget()
    {
        int inputs = FuzzScale.Of(30_000);
        Gen.Byte.Array[0, 300].Sample(
            bytes =>
            {
                long before = GC.GetAllocatedBytesForCurrentThread();
                ReadAll(bytes);
                Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 100_000);
            },
            iter: inputs);
        FuzzScale.Tell(inputs, "random bytes to the decoders of values");
    }

    [Fact]
    public void A_value_cut_anywhere_fails_softly()
    {
        int inputs = FuzzScale.Of(10_000);
        Gen.Select(ValueGen.Any, Gen.Int[0, 1_000_000]).Sample(
            (value, cut) =>
            {
                byte[] whole = Bytes(w => w.WriteVariant(value));
                var reader = new UaReader(whole.AsSpan(0, cut % whole.Length));
                reader.ReadVariant();
                return reader.Failed;
            },
            iter: inputs);
        FuzzScale.Tell(inputs, "values cut short");
    }

    [Fact]
    public void A_writer_at_its_bound_says_so_and_keeps_what_fitted()
    {
        using var writer = new UaWriter(bytesMax: 10, startBytes: 4);
        writer.WriteInt64(1);
        Assert.False(writer.Overflowed);
        writer.WriteString("four");
        Assert.True(writer.Overflowed);
        Assert.Equal(8, writer.Length);
        writer.Truncate(0);
        Assert.False(writer.Overflowed);
        writer.WriteStringArray(["abc"]);
        Assert.True(writer.Overflowed);
        writer.Clear();
        writer.WriteByteString(new byte[6]);
        Assert.False(writer.Overflowed);
        Assert.Equal(10, writer.Length);
    }

    // A number is written in one piece where there is room, in parts near the bound: both ways the same bytes, and never beyond it.
    [Fact]
    public void A_number_near_the_bound_is_written_whole_or_not_at_all()
    {
        UaDateTime time = UaDateTime.FromUnixMs(1_772_000_000_000);
        DataValue[] values = [new(new Variant(1100.0), StatusCode.Good, time, time), new(new Variant((byte)7), StatusCode.BadTimeout, time), new(new Variant(-6.5f)), new(new Variant(true), StatusCode.UncertainLastUsableValue, time, time)];
        foreach (DataValue value in values)
        {
            byte[] whole = Bytes(w => w.WriteDataValue(value));
            for (int room = 1; room < 40; room++)
            {
                using var writer = new UaWriter(bytesMax: room, startBytes: 1);
                writer.WriteDataValue(value);
                Assert.Equal(room < whole.Length, writer.Overflowed);
                Assert.True(writer.Overflowed || writer.Written.SequenceEqual(whole));
            }

            var reader = new UaReader(whole);
            Assert.Equal(value, reader.ReadDataValue());
        }
    }

    private static void ReadAll(byte[] bytes)
    {
        var variant = new UaReader(bytes, Tight);
        variant.ReadVariant();
        var data = new UaReader(bytes, Tight);
        data.ReadDataValueArray();
        var extension = new UaReader(bytes, Tight);
        extension.ReadExtensionObject();
        var node = new UaReader(bytes, Tight);
        node.ReadExpandedNodeId();
        var text = new UaReader(bytes, Tight);
        text.ReadLocalizedText();
        var diagnostic = new UaReader(bytes, Tight);
        diagnostic.ReadDiagnosticInfo();
    }

    // A Variant array of one Variant array of one ...
    private static UaReader Nested(int depth)
    {
        byte[] bytes = new byte[(5 * depth) + 1];
        for (int i = 0; i < depth; i++)
        {
            bytes[5 * i] = 0x98;
            bytes[(5 * i) + 1] = 1;
        }

        var reader = new UaReader(bytes, new UaLimits());
        reader.ReadVariant();
        return reader;
    }
}
