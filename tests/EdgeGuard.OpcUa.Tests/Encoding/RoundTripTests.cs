using CsCheck;

namespace EdgeGuard.OpcUa.Tests.Encoding;

public sealed class RoundTripTests
{
    [Fact]
    public void Any_Variant_comes_back_equal_and_with_the_same_bytes() => ValueGen.Any.Sample(
        value =>
        {
            byte[] bytes = Wire.Bytes(w => w.WriteVariant(value));
            var reader = new UaReader(bytes);
            Variant back = reader.ReadVariant();
            return !reader.Failed && reader.Remaining == 0 && back == value && Wire.Bytes(w => w.WriteVariant(back)).AsSpan().SequenceEqual(bytes);
        },
        iter: 20_000);

    [Fact]
    public void Any_DataValue_comes_back_equal() => ValueGen.Data.Sample(
        value =>
        {
            var reader = new UaReader(Wire.Bytes(w => w.WriteDataValue(value)));
            return reader.ReadDataValue() == value && reader.Remaining == 0 && !reader.Failed;
        },
        iter: 5_000);

    [Fact]
    public void Any_NodeId_comes_back_from_bytes_and_from_text() => ValueGen.Node.Sample(
        nodeId =>
        {
            var reader = new UaReader(Wire.Bytes(w => w.WriteNodeId(nodeId)));
            return reader.ReadNodeId() == nodeId && NodeId.TryParse(nodeId.ToString(), out NodeId parsed) && parsed == nodeId && parsed.GetHashCode() == nodeId.GetHashCode();
        },
        iter: 5_000);

    [Fact]
    public void Any_DiagnosticInfo_keeps_its_bytes() => ValueGen.Diagnostic.Sample(
        info =>
        {
            byte[] bytes = Wire.Bytes(w => w.WriteDiagnosticInfo(info));
            var reader = new UaReader(bytes);
            DiagnosticInfo? back = reader.ReadDiagnosticInfo();
            return !reader.Failed && reader.Remaining == 0 && Wire.Bytes(w => w.WriteDiagnosticInfo(back)).AsSpan().SequenceEqual(bytes);
        },
        iter: 2_000);

    [Fact]
    public void Times_outside_the_range_of_the_standard_are_clamped()
    {
        Assert.Equal(0, UaDateTime.FromUtc(new DateTime(1500, 1, 1, 0, 0, 0, DateTimeKind.Utc)).Ticks);
        Assert.Equal(long.MaxValue, UaDateTime.FromUtc(DateTime.MaxValue).Ticks);
        Assert.Equal(0, new UaDateTime(-5).Ticks);
        Assert.Equal(DateTime.MinValue, default(UaDateTime).ToUtc());
        Assert.Equal(DateTime.MaxValue, new UaDateTime(long.MaxValue).ToUtc());
        var now = new DateTime(2026, 2, 3, 4, 5, 6, 789, DateTimeKind.Utc);
        Assert.Equal(now, UaDateTime.FromUtc(now).ToUtc());
        Assert.Equal(UaDateTime.FromUtc(now), UaDateTime.FromUnixMs(new DateTimeOffset(now).ToUnixTimeMilliseconds()));
    }

    [Fact]
    public void Arrays_of_numbers_turn_round_on_a_machine_of_the_other_byte_order()
    {
        byte[] words = [1, 2, 3, 4, 5, 6, 7, 8];
        UaEndian.Reverse(words, 2);
        Assert.Equal([2, 1, 4, 3, 6, 5, 8, 7], words);
        UaEndian.Reverse(words, 2);
        UaEndian.Reverse(words, 4);
        Assert.Equal([4, 3, 2, 1, 8, 7, 6, 5], words);
        UaEndian.Reverse(words, 4);
        UaEndian.Reverse(words, 8);
        Assert.Equal([8, 7, 6, 5, 4, 3, 2, 1], words);
    }

    [Fact]
    public void Writing_and_reading_numbers_allocates_nothing()
    {
        using var writer = new UaWriter();
        var known = new UaLimits { KnownTexts = new KnownTexts(["N-1/outlet"]) };
        var node = new NodeId(1, "N-1/outlet");
        double sum = 0;
        long before = 0;
        for (int i = 0; i < 11_000; i++)
        {
            before = i == 1_000 ? GC.GetAllocatedBytesForCurrentThread() : before;
            writer.Clear();
            writer.WriteNodeId(node);
            writer.WriteDataValue(new DataValue(new Variant(i * 0.5), StatusCode.Good, new UaDateTime(130_000_000_000_000_000 + i)));
            var reader = new UaReader(writer.Written, known);
            Assert.Same(node.Text, reader.ReadNodeId().Text);
            sum += reader.ReadDataValue().Value.AsDouble;
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(10_999 * 11_000 / 4.0, sum);
    }
}
