using CsCheck;
using EdgeGuard.OpcUa.Services;

namespace EdgeGuard.OpcUa.Tests.Attribute;

/// <summary>IndexRange (OPC 10000-4, 7.27): its examples, its refusals, and a naive oracle.</summary>
public sealed class NumericRangeTests
{
    private static readonly Variant Five = Variant.FromArray(BuiltInType.Int32, new[] { 0, 1, 2, 3, 4 });
    private static readonly Variant Matrix = Variant.FromMatrix(BuiltInType.Int32, new[] { 0, 1, 2, 10, 11, 12 }, [2, 3]);

    [Theory]
    [InlineData("6", StatusCode.BadIndexRangeNoData)]
    [InlineData("5:9", StatusCode.BadIndexRangeNoData)]
    [InlineData("0,1", StatusCode.BadIndexRangeNoData)]
    [InlineData("2:1", StatusCode.BadIndexRangeInvalid)]
    [InlineData("2:2", StatusCode.BadIndexRangeInvalid)]
    [InlineData("-1", StatusCode.BadIndexRangeInvalid)]
    [InlineData("+1", StatusCode.BadIndexRangeInvalid)]
    [InlineData(" 1", StatusCode.BadIndexRangeInvalid)]
    [InlineData("1:", StatusCode.BadIndexRangeInvalid)]
    [InlineData(":1", StatusCode.BadIndexRangeInvalid)]
    [InlineData("1:2:3", StatusCode.BadIndexRangeInvalid)]
    [InlineData("1,", StatusCode.BadIndexRangeInvalid)]
    [InlineData(",", StatusCode.BadIndexRangeInvalid)]
    [InlineData("x", StatusCode.BadIndexRangeInvalid)]
    [InlineData("2147483648", StatusCode.BadIndexRangeInvalid)]
    [InlineData("99999999999999999999", StatusCode.BadIndexRangeInvalid)]
    [InlineData("0,0,0,0,0,0,0,0,0", StatusCode.BadIndexRangeInvalid)]
    [InlineData("2147483646:2147483647", StatusCode.BadIndexRangeNoData)]
    public void Contract_point_13_bad_ranges_are_refused(string text, StatusCode expected)
    {
        Assert.Equal(expected, Cut(text, Five, out _));
    }

    [Theory]
    [InlineData("1", new[] { 1 })]
    [InlineData("1:3", new[] { 1, 2, 3 })]
    [InlineData("3:9", new[] { 3, 4 })]
    [InlineData("0:2147483647", new[] { 0, 1, 2, 3, 4 })]
    [InlineData("", new[] { 0, 1, 2, 3, 4 })]
    [InlineData(null, new[] { 0, 1, 2, 3, 4 })]
    public void Contract_point_13_a_part_of_an_array_is_an_array(string? text, int[] expected)
    {
        Assert.Equal(StatusCode.Good, Cut(text, Five, out Variant part));
        Assert.Equal(Variant.FromArray(BuiltInType.Int32, expected), part);
    }

    [Theory]
    [InlineData("1:2,0:1", new[] { 10, 11 }, new[] { 1, 2 })]
    [InlineData("0:1,1:2", new[] { 1, 2, 11, 12 }, new[] { 2, 2 })]
    [InlineData("0,2", new[] { 2 }, new[] { 1, 1 })]
    public void A_part_of_a_matrix_keeps_its_dimensions(string text, int[] elements, int[] dimensions)
    {
        Assert.Equal(StatusCode.Good, Cut(text, Matrix, out Variant part));
        Assert.Equal(Variant.FromMatrix(BuiltInType.Int32, elements, dimensions), part);
        Assert.Equal(StatusCode.BadIndexRangeNoData, Cut("1", Matrix, out _));
        Assert.Equal(StatusCode.BadIndexRangeNoData, Cut("2:3,0:1", Matrix, out _));
    }

    [Fact]
    public void Parts_of_texts_and_octets()
    {
        Assert.Equal(StatusCode.Good, Cut("1:2", new Variant("abcd"), out Variant text));
        Assert.Equal("bc", text.AsString);
        Assert.Equal(StatusCode.Good, Cut("2:9", new Variant(new byte[] { 1, 2, 3 }), out Variant octets));
        Assert.Equal([3], octets.AsByteString!);
        Assert.Equal(StatusCode.BadIndexRangeNoData, Cut("4", new Variant("abcd"), out _));
        Assert.Equal(StatusCode.BadIndexRangeNoData, Cut("0", new Variant(1.0), out _));
    }

    [Fact]
    public void Any_part_of_any_three_dimensions_agrees_with_the_plain_triple_loop()
    {
        Gen<int> size = Gen.Int[1, 4];
        Gen.Select(size, size, size, Gen.Int[0, 3].Array[6]).Sample((a, b, c, ends) =>
        {
            int[] all = [.. Enumerable.Range(0, a * b * c)];
            (int f1, int l1, int f2, int l2, int f3, int l3) = (ends[0] % a, 0, ends[2] % b, 0, ends[4] % c, 0);
            (l1, l2, l3) = (f1 + 1 + ends[1], f2 + 1 + ends[3], f3 + 1 + ends[5]);
            List<int> expected = [];
            for (int x = f1; x <= l1 && x < a; x++)
            {
                for (int y = f2; y <= l2 && y < b; y++)
                {
                    for (int z = f3; z <= l3 && z < c; z++)
                    {
                        expected.Add(all[(((x * b) + y) * c) + z]);
                    }
                }
            }

            StatusCode status = Cut($"{f1}:{l1},{f2}:{l2},{f3}:{l3}", Variant.FromMatrix(BuiltInType.Int32, all, [a, b, c]), out Variant part);
            return status == StatusCode.Good && expected.SequenceEqual((int[])part.Elements!);
        });
    }

    private static StatusCode Cut(string? text, Variant value, out Variant part)
    {
        part = default;
        StatusCode status = NumericRange.TryParse(text, out NumericRange range);
        return status.IsGood() ? range.TryApply(value, out part) : status;
    }
}
