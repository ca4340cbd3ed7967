using System.Globalization;

namespace EdgeGuard.OpcUa.Services;

/// <summary>
/// A part of an array, String or ByteString (OPC 10000-4, 7.27): for each dimension one index or "first:last" with first
/// below last, dimensions divided by commas. The default value is the whole.
/// </summary>
public readonly struct NumericRange
{
    // More dimensions than any value of this server has.
    private const int DimensionsMax = 8;
    private readonly (int First, int Last)[]? _bounds;

    private NumericRange((int First, int Last)[] bounds)
    {
        _bounds = bounds;
    }

    /// <summary>Whether no part was asked for.</summary>
    public bool IsWhole => _bounds is null;

    /// <summary>Reads the text of a request; null and empty are the whole.</summary>
    /// <returns>Good or BadIndexRangeInvalid.</returns>
    public static StatusCode TryParse(string? text, out NumericRange range)
    {
        range = default;
        if (string.IsNullOrEmpty(text))
        {
            return StatusCode.Good;
        }

        int dimensions = text.AsSpan().Count(',') + 1;
        if (dimensions > DimensionsMax)
        {
            return StatusCode.BadIndexRangeInvalid;
        }

        var bounds = new (int First, int Last)[dimensions];
        int at = 0;
        foreach (System.Range part in text.AsSpan().Split(','))
        {
            if (!TryParseBounds(text.AsSpan()[part], out bounds[at++]))
            {
                return StatusCode.BadIndexRangeInvalid;
            }
        }

        range = new NumericRange(bounds);
        return StatusCode.Good;
    }

    /// <summary>The part of a value; elements beyond its end are left out.</summary>
    /// <returns>Good, or BadIndexRangeNoData when nothing is left or the value has other dimensions.</returns>
    /// <param name="value">The whole value: a copy, so that the part may be put in its place.</param>
    /// <param name="part">The part.</param>
    public StatusCode TryApply(Variant value, out Variant part)
    {
        part = value;
        if (_bounds is null || value.IsNull)
        {
            return StatusCode.Good;
        }

        bool found = value.Shape switch
        {
            VariantShape.Scalar => TryScalar(value, out part),
            VariantShape.Array => TryArray(value, out part),
            _ => TryMatrix(value, out part),
        };
        return found ? StatusCode.Good : StatusCode.BadIndexRangeNoData;
    }

    private static bool TryParseBounds(ReadOnlySpan<char> text, out (int First, int Last) bounds)
    {
        bounds = default;
        int colon = text.IndexOf(':');
        if (colon < 0)
        {
            bool single = TryParseIndex(text, out int index);
            bounds = (index, index);
            return single;
        }

        bool both = TryParseIndex(text[..colon], out int first) & TryParseIndex(text[(colon + 1)..], out int last);
        bounds = (first, last);
        return both && first < last;
    }

    private static bool TryParseIndex(ReadOnlySpan<char> text, out int index) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out index);

    private static bool TryClip((int First, int Last) bounds, int length, out int count)
    {
        count = Math.Min(bounds.Last, length - 1) - bounds.First + 1;
        return bounds.First < length;
    }

    private bool TryScalar(in Variant value, out Variant part)
    {
        part = default;
        if (_bounds!.Length != 1)
        {
            return false;
        }

        if (value.Type == BuiltInType.String && value.AsString is { } text && TryClip(_bounds[0], text.Length, out int characters))
        {
            part = new Variant(text.Substring(_bounds[0].First, characters));
            return true;
        }

        if (value.Type == BuiltInType.ByteString && value.AsByteString is { } bytes && TryClip(_bounds[0], bytes.Length, out int count))
        {
            part = new Variant(bytes.AsSpan(_bounds[0].First, count).ToArray());
            return true;
        }

        return false;
    }

    private bool TryArray(in Variant value, out Variant part)
    {
        part = default;
        Array elements = value.Elements!;
        if (_bounds!.Length != 1 || !TryClip(_bounds[0], elements.Length, out int count))
        {
            return false;
        }

        Array copy = NewArray(value.Type, count);
        Array.Copy(elements, _bounds[0].First, copy, 0, count);
        part = Variant.FromArray(value.Type, copy);
        return true;
    }

    // Row-major: runs of the last dimension are copied one by one.
    private bool TryMatrix(in Variant value, out Variant part)
    {
        part = default;
        int[] dimensions = value.Dimensions!;
        int[] counts = new int[dimensions.Length];
        for (int i = 0; i < dimensions.Length; i++)
        {
            if (_bounds!.Length != dimensions.Length || !TryClip(_bounds[i], dimensions[i], out counts[i]))
            {
                return false;
            }
        }

        Array copy = NewArray(value.Type, (int)VariantElements.Product(counts));
        int run = counts[^1];
        for (int row = 0; row * run < copy.Length; row++)
        {
            Array.Copy(value.Elements!, Offset(row, counts, dimensions), copy, row * run, run);
        }

        part = Variant.FromMatrix(value.Type, copy, counts);
        return true;
    }

    // Place in the source of the first element of a run; the run's number is taken apart from the last dimension but one.
    private int Offset(int row, int[] counts, int[] dimensions)
    {
        int offset = _bounds![^1].First;
        int stride = dimensions[^1];
        for (int i = dimensions.Length - 2; i >= 0; i--)
        {
            offset += (_bounds[i].First + (row % counts[i])) * stride;
            row /= counts[i];
            stride *= dimensions[i];
        }

        return offset;
    }

    private static Array NewArray(BuiltInType type, int length) => Array.CreateInstanceFromArrayType(VariantElements.ClrType(type)!, length);
}
