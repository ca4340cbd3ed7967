using System.Buffers;
using System.Buffers.Binary;
using System.Text;

namespace EdgeGuard.OpcUa;

/// <summary>
/// Writes the binary encoding (OPC 10000-6, 5.2) into a pooled buffer that grows up to a bound. What does not fit is not
/// written and sets <see cref="Overflowed"/>, so that an answer too large is found out by the caller instead of by the
/// peer. One writer is reused for many messages; it is not safe for several threads.
/// </summary>
public sealed partial class UaWriter : IDisposable
{
    private readonly int _bytesMax;
    private byte[] _buffer;
    private int _capacity;
    private int _position;

    /// <summary>An empty writer.</summary>
    /// <param name="bytesMax">Largest content in bytes.</param>
    /// <param name="startBytes">First size of the buffer.</param>
    public UaWriter(int bytesMax = 16_777_216, int startBytes = 1024)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(bytesMax);
        _bytesMax = bytesMax;
        _buffer = ArrayPool<byte>.Shared.Rent(Math.Min(startBytes, bytesMax));

        // The pool gives more than was asked for; the bound holds all the same.
        _capacity = Math.Min(_buffer.Length, bytesMax);
    }

    /// <summary>Bytes written.</summary>
    public int Length => _position;

    /// <summary>Whether something did not fit; the content is then not a whole message.</summary>
    public bool Overflowed { get; private set; }

    /// <summary>Largest content in bytes.</summary>
    public int BytesMax => _bytesMax;

    /// <summary>The content; valid until the next write.</summary>
    public ReadOnlySpan<byte> Written => _buffer.AsSpan(0, _position);

    /// <summary>The content for a socket; valid until the next write.</summary>
    public ReadOnlyMemory<byte> WrittenMemory => _buffer.AsMemory(0, _position);

    /// <summary>The content to be changed in place, for signatures and sizes known later.</summary>
    public Span<byte> WrittenForUpdate => _buffer.AsSpan(0, _position);

    /// <summary>What holds the content, for a cipher that takes arrays; valid until the next write.</summary>
    internal byte[] Buffer => _buffer;

    /// <summary>Forgets the content; keeps the buffer.</summary>
    public void Clear()
    {
        _position = 0;
        Overflowed = false;
    }

    /// <summary>Forgets the content, and gives back a buffer larger than <paramref name="bytes"/>, so that one large message does not keep its memory for ever.</summary>
    public void ClearAndTrim(int bytes)
    {
        Clear();
        if (_buffer.Length > bytes)
        {
            ArrayPool<byte>.Shared.Return(_buffer);
            _buffer = ArrayPool<byte>.Shared.Rent(Math.Min(bytes / 2, _bytesMax));
            _capacity = Math.Min(_buffer.Length, _bytesMax);
        }
    }

    /// <summary>Forgets what was written after <paramref name="length"/>, and an overflow with it.</summary>
    public void Truncate(int length)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(length, _position);
        _position = length;
        Overflowed = false;
    }

    /// <summary>Gives the buffer back.</summary>
    public void Dispose()
    {
        if (_buffer.Length > 0)
        {
            ArrayPool<byte>.Shared.Return(_buffer);
            _buffer = [];
            _capacity = 0;
            _position = 0;
            Overflowed = true;
        }
    }

    /// <summary>The next <paramref name="count"/> bytes, to be filled by the caller; empty when they do not fit.</summary>
    public Span<byte> Take(int count)
    {
        if (_capacity - _position < count && !Grow(count))
        {
            return default;
        }

        Span<byte> taken = _buffer.AsSpan(_position, count);
        _position += count;
        return taken;
    }

    /// <summary>Bytes as they are.</summary>
    public void WriteBytes(ReadOnlySpan<byte> bytes)
    {
        Span<byte> target = Take(bytes.Length);
        if (target.Length == bytes.Length)
        {
            bytes.CopyTo(target);
        }
    }

    /// <summary>Boolean as 0 or 1.</summary>
    public void WriteBoolean(bool value) => WriteByte(value ? (byte)1 : (byte)0);

    /// <summary>SByte.</summary>
    public void WriteSByte(sbyte value) => WriteByte(unchecked((byte)value));

    /// <summary>Byte.</summary>
    public void WriteByte(byte value)
    {
        Span<byte> target = Take(1);
        if (!target.IsEmpty)
        {
            target[0] = value;
        }
    }

    /// <summary>Int16.</summary>
    public void WriteInt16(short value) => BinaryPrimitives.TryWriteInt16LittleEndian(Take(2), value);

    /// <summary>UInt16.</summary>
    public void WriteUInt16(ushort value) => BinaryPrimitives.TryWriteUInt16LittleEndian(Take(2), value);

    /// <summary>Int32.</summary>
    public void WriteInt32(int value) => BinaryPrimitives.TryWriteInt32LittleEndian(Take(4), value);

    /// <summary>UInt32.</summary>
    public void WriteUInt32(uint value) => BinaryPrimitives.TryWriteUInt32LittleEndian(Take(4), value);

    /// <summary>Int64.</summary>
    public void WriteInt64(long value) => BinaryPrimitives.TryWriteInt64LittleEndian(Take(8), value);

    /// <summary>UInt64.</summary>
    public void WriteUInt64(ulong value) => BinaryPrimitives.TryWriteUInt64LittleEndian(Take(8), value);

    /// <summary>Float.</summary>
    public void WriteFloat(float value) => WriteInt32(BitConverter.SingleToInt32Bits(value));

    /// <summary>Double.</summary>
    public void WriteDouble(double value) => WriteInt64(BitConverter.DoubleToInt64Bits(value));

    /// <summary>DateTime.</summary>
    public void WriteDateTime(UaDateTime value) => WriteInt64(value.Ticks);

    /// <summary>StatusCode.</summary>
    public void WriteStatusCode(StatusCode value) => WriteUInt32((uint)value);

    /// <summary>Guid.</summary>
    public void WriteGuid(Guid value)
    {
        Span<byte> target = Take(16);
        if (target.Length == 16)
        {
            value.TryWriteBytes(target);
        }
    }

    /// <summary>String; a lone surrogate becomes the replacement character.</summary>
    public void WriteString(string? value)
    {
        if (value is null)
        {
            WriteInt32(-1);
            return;
        }

        int length = Encoding.UTF8.GetByteCount(value);
        WriteInt32(length);
        Span<byte> target = Take(length);
        if (target.Length == length)
        {
            Encoding.UTF8.GetBytes(value, target);
        }
    }

    /// <summary>ByteString.</summary>
    public void WriteByteString(byte[]? value)
    {
        WriteInt32(value?.Length ?? -1);
        WriteBytes(value);
    }

    /// <summary>ByteString from a span, never null.</summary>
    public void WriteByteString(ReadOnlySpan<byte> value)
    {
        WriteInt32(value.Length);
        WriteBytes(value);
    }

    /// <summary>Overwrites a number written before, for a length known later.</summary>
    public void PatchInt32(int position, int value)
    {
        if (position + 4 <= _position)
        {
            BinaryPrimitives.WriteInt32LittleEndian(_buffer.AsSpan(position, 4), value);
        }
    }

    private bool Grow(int count)
    {
        long needed = (long)_position + count;
        if (needed > _bytesMax || _buffer.Length == 0)
        {
            Overflowed = true;
            return false;
        }

        int size = (int)Math.Min(_bytesMax, Math.Max(needed, 2L * _buffer.Length));
        byte[] larger = ArrayPool<byte>.Shared.Rent(size);
        _buffer.AsSpan(0, _position).CopyTo(larger);
        ArrayPool<byte>.Shared.Return(_buffer);
        _buffer = larger;
        _capacity = Math.Min(larger.Length, _bytesMax);
        return true;
    }
}
