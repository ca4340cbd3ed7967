using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Unicode;

namespace EdgeGuard.OpcUa;

/// <summary>
/// Reads the binary encoding (OPC 10000-6, 5.2) from a span. It never throws on input: the first thing that is wrong
/// fails the reader, every later read returns a default value, and <see cref="Status"/> says why. A declared length is
/// refused by the limits before the bytes are looked for, and by the bytes left before memory is spent on it.
/// </summary>
public ref partial struct UaReader
{
    // A failed reader has no data left, so the one bounds check of each read covers failure too.
    private ReadOnlySpan<byte> _data;
    private int _position;
    private int _failedAt;
    private int _depth;
    private long _budgetBytes;
    private StatusCode _status;
    private readonly UaLimits _limits;

    /// <summary>Starts at the first byte.</summary>
    public UaReader(ReadOnlySpan<byte> data, UaLimits? limits = null)
    {
        _data = data;
        _limits = limits ?? UaLimits.Default;
        _budgetBytes = _limits.DecodedBytesMax;
    }

    /// <summary>Good, BadDecodingError (malformed) or BadEncodingLimitsExceeded (a limit).</summary>
    public readonly StatusCode Status => _status;

    /// <summary>Whether a read has failed.</summary>
    public readonly bool Failed => _status != StatusCode.Good;

    /// <summary>Bytes consumed; after a failure, where the item began that could not be read.</summary>
    public readonly int Position => Failed ? _failedAt : _position;

    /// <summary>Bytes left; 0 after a failure.</summary>
    public readonly int Remaining => _data.Length - _position;

    /// <summary>The limits in force.</summary>
    public readonly UaLimits Limits => _limits;

    /// <summary>Fails the reader; the first failure stays.</summary>
    public void Fail(StatusCode status)
    {
        if (!Failed)
        {
            _status = status;
            _failedAt = _position;
            _data = default;
            _position = 0;
        }
    }

    /// <summary>Takes <paramref name="count"/> bytes as they are; empty and failed when there are fewer.</summary>
    public ReadOnlySpan<byte> ReadBytes(int count)
    {
        if ((uint)count > (uint)(_data.Length - _position))
        {
            Fail(StatusCode.BadDecodingError);
            return default;
        }

        ReadOnlySpan<byte> taken = _data.Slice(_position, count);
        _position += count;
        return taken;
    }

    /// <summary>Boolean: 0 is false, anything else true.</summary>
    public bool ReadBoolean() => ReadByte() != 0;

    /// <summary>SByte.</summary>
    public sbyte ReadSByte() => unchecked((sbyte)ReadByte());

    /// <summary>Byte.</summary>
    public byte ReadByte()
    {
        if ((uint)_position >= (uint)_data.Length)
        {
            Fail(StatusCode.BadDecodingError);
            return 0;
        }

        return _data[_position++];
    }

    /// <summary>Int16, least significant byte first as all numbers.</summary>
    public short ReadInt16() => BinaryPrimitives.TryReadInt16LittleEndian(ReadBytes(2), out short value) ? value : (short)0;

    /// <summary>UInt16.</summary>
    public ushort ReadUInt16() => BinaryPrimitives.TryReadUInt16LittleEndian(ReadBytes(2), out ushort value) ? value : (ushort)0;

    /// <summary>Int32.</summary>
    public int ReadInt32() => BinaryPrimitives.TryReadInt32LittleEndian(ReadBytes(4), out int value) ? value : 0;

    /// <summary>UInt32.</summary>
    public uint ReadUInt32() => BinaryPrimitives.TryReadUInt32LittleEndian(ReadBytes(4), out uint value) ? value : 0;

    /// <summary>Int64.</summary>
    public long ReadInt64() => BinaryPrimitives.TryReadInt64LittleEndian(ReadBytes(8), out long value) ? value : 0;

    /// <summary>UInt64.</summary>
    public ulong ReadUInt64() => BinaryPrimitives.TryReadUInt64LittleEndian(ReadBytes(8), out ulong value) ? value : 0;

    /// <summary>Float.</summary>
    public float ReadFloat() => BitConverter.Int32BitsToSingle(ReadInt32());

    /// <summary>Double.</summary>
    public double ReadDouble() => BitConverter.Int64BitsToDouble(ReadInt64());

    /// <summary>DateTime, clamped to the range of the standard.</summary>
    public UaDateTime ReadDateTime() => new(ReadInt64());

    /// <summary>StatusCode, with its information bits.</summary>
    public StatusCode ReadStatusCode() => (StatusCode)ReadUInt32();

    /// <summary>Guid: three numbers least significant byte first, then eight bytes (5.2.2.6), the layout of <see cref="Guid"/>.</summary>
    public Guid ReadGuid()
    {
        ReadOnlySpan<byte> bytes = ReadBytes(16);
        return bytes.Length == 16 ? new Guid(bytes) : default;
    }

    /// <summary>String: length, then UTF-8 without a terminator; -1 is null. Bytes that are not UTF-8 are refused.</summary>
    public string? ReadString()
    {
        ReadOnlySpan<byte> utf8 = ReadStringBytes(out bool isNull);
        return isNull || Failed ? null : Text(utf8);
    }

    /// <summary>The UTF-8 bytes of a String, without allocating; empty when null.</summary>
    public ReadOnlySpan<byte> ReadStringBytes(out bool isNull)
    {
        ReadOnlySpan<byte> utf8 = ReadCounted(_limits.StringBytesMax, out isNull);
        if (!Utf8.IsValid(utf8))
        {
            Fail(StatusCode.BadDecodingError);
            return default;
        }

        return utf8;
    }

    /// <summary>ByteString: length, then octets; -1 is null.</summary>
    public byte[]? ReadByteString()
    {
        ReadOnlySpan<byte> octets = ReadByteStringBytes(out bool isNull);
        return isNull || Failed || !Charge(octets.Length + 24) ? null : octets.ToArray();
    }

    /// <summary>The octets of a ByteString, without allocating; empty when null.</summary>
    public ReadOnlySpan<byte> ReadByteStringBytes(out bool isNull) => ReadCounted(_limits.ByteStringBytesMax, out isNull);

    /// <summary>
    /// Length of an array: -1 (null) counts as 0 here and is told by <paramref name="isNull"/>. Refused above the limit, and
    /// when the bytes left cannot hold that many elements of at least <paramref name="elementBytesMin"/> bytes.
    /// </summary>
    public int ReadArrayLength(int elementBytesMin, int elementSizeBytes, out bool isNull)
    {
        int start = _position;
        int length = ReadInt32();
        isNull = length < 0;
        if (Failed || length <= 0)
        {
            return 0;
        }

        if (length > _limits.ArrayLengthMax)
        {
            return Refuse(start, StatusCode.BadEncodingLimitsExceeded);
        }

        if ((long)length * elementBytesMin > Remaining)
        {
            return Refuse(start, StatusCode.BadDecodingError);
        }

        return Charge(((long)length * elementSizeBytes) + 24) ? length : 0;
    }

    /// <summary>Array of structures; null when the length is -1.</summary>
    public T[]? ReadStructures<T>()
        where T : IUaStructure<T> => ReadStructures<T>(spare: null);

    /// <summary>The same into an array that is no longer needed, when it has just the length that is read.</summary>
    public T[]? ReadStructures<T>(T[]? spare)
        where T : IUaStructure<T>
    {
        // A class costs its object beside the reference; 64 bytes is a fair guess that only has to bound memory.
        int size = RuntimeHelpers.IsReferenceOrContainsReferences<T>() && !typeof(T).IsValueType ? 72 : Unsafe.SizeOf<T>();
        int length = ReadArrayLength(T.BytesMin, size, out bool isNull);
        if (isNull || Failed)
        {
            return null;
        }

        T[] items = length == 0 ? [] : spare?.Length == length ? spare : new T[length];
        for (int i = 0; i < items.Length && !Failed; i++)
        {
            items[i] = T.Read(ref this);
        }

        return items;
    }

    private ReadOnlySpan<byte> ReadCounted(int bytesMax, out bool isNull)
    {
        int start = _position;
        int length = ReadInt32();
        isNull = length < 0;
        if (length <= 0)
        {
            return default;
        }

        if (length > bytesMax || length > Remaining)
        {
            Refuse(start, length > bytesMax ? StatusCode.BadEncodingLimitsExceeded : StatusCode.BadDecodingError);
            return default;
        }

        return ReadBytes(length);
    }

    private string? Text(ReadOnlySpan<byte> utf8) => Charge((2L * utf8.Length) + 24) ? Encoding.UTF8.GetString(utf8) : null;

    private int Refuse(int start, StatusCode status)
    {
        if (!Failed)
        {
            _position = start;
            Fail(status);
        }

        return 0;
    }

    private bool Charge(long bytes)
    {
        _budgetBytes -= bytes;
        if (_budgetBytes >= 0)
        {
            return !Failed;
        }

        Fail(StatusCode.BadEncodingLimitsExceeded);
        return false;
    }

    private bool Enter()
    {
        if (++_depth <= _limits.NestingMax)
        {
            return !Failed;
        }

        Fail(StatusCode.BadEncodingLimitsExceeded);
        return false;
    }
}
