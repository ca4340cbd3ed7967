using System.Globalization;
using System.Text;

namespace EdgeGuard.Records.Kept;

/// <summary>Writes lines into a buffer that is allocated once; a figure out of bounds is written as its bound, so that what is written can be read.</summary>
internal sealed class KeptTextWriter : IKeptFields
{
    /// <summary>Bytes of a kept file at most.</summary>
    public const int BytesMax = 16_384;

    private const string TimeFormat = "yyyy-MM-dd'T'HH:mm:ss.fff'Z'";

    private readonly byte[] _buffer = new byte[BytesMax];

    /// <summary>Bytes written.</summary>
    public int Length { get; private set; }

    /// <summary>What was written.</summary>
    public ReadOnlySpan<byte> Written => _buffer.AsSpan(0, Length);

    /// <summary>Begins anew.</summary>
    public void Clear() => Length = 0;

    /// <summary>A whole line.</summary>
    public void Line(ReadOnlySpan<byte> line)
    {
        Add(line);
        Add("\n"u8);
    }

    public string Text(string key, string value)
    {
        Key(key);
        Length += Encoding.UTF8.GetBytes(value, _buffer.AsSpan(Length));
        Add("\n"u8);
        return value;
    }

    public long Time(string key, long utcMs)
    {
        Key(key);
        DateTime time = DateTime.UnixEpoch.AddMilliseconds(Math.Clamp(utcMs, 0, KeptTextReader.UtcMsMost));
        _ = time.TryFormat(_buffer.AsSpan(Length), out int bytes, TimeFormat, CultureInfo.InvariantCulture);
        return End(bytes, utcMs);
    }

    public long Whole(string key, long value, long most)
    {
        Key(key);
        _ = Math.Clamp(value, 0, most).TryFormat(_buffer.AsSpan(Length), out int bytes, default, CultureInfo.InvariantCulture);
        return End(bytes, value);
    }

    public double Number(string key, double value, double least, double most, bool mayBeNone = false)
    {
        Key(key);
        if (double.IsNaN(value))
        {
            Add(mayBeNone ? "-"u8 : "0"u8);
            Add("\n"u8);
            return value;
        }

        // The shortest text that reads back as the same number; no −0, so that equal figures have one text.
        double bounded = Math.Clamp(value, least, most) + 0.0;
        _ = bounded.TryFormat(_buffer.AsSpan(Length), out int bytes, "R", CultureInfo.InvariantCulture);
        return End(bytes, value);
    }

    private T End<T>(int bytes, T value)
    {
        Length += bytes;
        Add("\n"u8);
        return value;
    }

    private void Key(string key)
    {
        Length += Encoding.ASCII.GetBytes(key, _buffer.AsSpan(Length));
        Add(" "u8);
    }

    private void Add(ReadOnlySpan<byte> bytes)
    {
        bytes.CopyTo(_buffer.AsSpan(Length));
        Length += bytes.Length;
    }
}
