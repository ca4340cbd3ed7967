namespace EdgeGuard.Modbus.Pdu;

/// <summary>
/// Answers of function 43, type 14 (Application Protocol V1.1b3, 6.21): a list of objects, each id, length, bytes. A
/// list that does not fit one PDU goes on in the next answer; an object is never split.
/// </summary>
public static class DeviceIdCodec
{
    /// <summary>Bytes in front of the first object: function, type, access, conformity, more follows, next object, count.</summary>
    public const int HeadLength = 7;

    /// <summary>Longest object in one answer.</summary>
    public const int MaxObjectLength = PduLimits.MaxPduLength - HeadLength - ObjectHeadLength;

    /// <summary>Value of "more follows" when the list goes on in the next answer.</summary>
    public const byte MoreFollows = 0xFF;

    private const int ObjectHeadLength = 2;
    private const int MoreFollowsIndex = 4;
    private const int NextObjectIndex = 5;
    private const int CountIndex = 6;

    /// <summary>Begins an answer without objects and returns its length.</summary>
    public static int WriteHead(Span<byte> pdu, DeviceIdAccess access, byte conformity)
    {
        pdu[0] = (byte)FunctionCode.EncapsulatedInterface;
        pdu[1] = PduLimits.DeviceIdMeiType;
        pdu[2] = (byte)access;
        pdu[3] = conformity;
        pdu[MoreFollowsIndex] = 0;
        pdu[NextObjectIndex] = 0;
        pdu[CountIndex] = 0;
        return HeadLength;
    }

    /// <summary>Adds an object to the answer of <paramref name="length"/> bytes; false, with nothing changed, when it does not fit.</summary>
    public static bool TryAppend(Span<byte> pdu, ref int length, byte objectId, ReadOnlySpan<byte> value)
    {
        if (length + ObjectHeadLength + value.Length > PduLimits.MaxPduLength)
        {
            return false;
        }

        pdu[length] = objectId;
        pdu[length + 1] = (byte)value.Length;
        value.CopyTo(pdu[(length + ObjectHeadLength)..]);
        length += ObjectHeadLength + value.Length;
        pdu[CountIndex]++;
        return true;
    }

    /// <summary>Says in the answer that the list goes on with <paramref name="nextObjectId"/>.</summary>
    public static void WriteMoreFollows(Span<byte> pdu, byte nextObjectId)
    {
        pdu[MoreFollowsIndex] = MoreFollows;
        pdu[NextObjectIndex] = nextObjectId;
    }

    /// <summary>True, with the id to go on with, when the list is not at its end.</summary>
    public static bool IsContinued(ReadOnlySpan<byte> answer, out byte nextObjectId)
    {
        nextObjectId = answer[NextObjectIndex];
        return answer[MoreFollowsIndex] == MoreFollows;
    }

    /// <summary>Conformity level of the device: 1 basic, 2 regular, 3 extended; 0x80 more when single objects can be read.</summary>
    public static byte Conformity(ReadOnlySpan<byte> answer) => answer[3];

    /// <summary>Takes the object at <paramref name="position"/> and moves on; begin with <see cref="HeadLength"/>. False at the end.</summary>
    public static bool TryRead(ReadOnlySpan<byte> answer, ref int position, out byte objectId, out ReadOnlySpan<byte> value)
    {
        objectId = 0;
        value = default;
        if (position + ObjectHeadLength > answer.Length || position + ObjectHeadLength + answer[position + 1] > answer.Length)
        {
            return false;
        }

        objectId = answer[position];
        value = answer.Slice(position + ObjectHeadLength, answer[position + 1]);
        position += ObjectHeadLength + value.Length;
        return true;
    }

    /// <summary>
    /// Length of the answer whose beginning these bytes are: 0 when more bytes are needed to tell, −1 when no answer
    /// begins so. For framings that do not carry a length.
    /// </summary>
    public static int PduLength(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < HeadLength)
        {
            return 0;
        }

        int end = HeadLength;
        for (int i = 0; i < bytes[CountIndex]; i++)
        {
            if (end + ObjectHeadLength > PduLimits.MaxPduLength)
            {
                return -1;
            }

            if (end + ObjectHeadLength > bytes.Length)
            {
                return 0;
            }

            end += ObjectHeadLength + bytes[end + 1];
        }

        return end <= PduLimits.MaxPduLength ? end : -1;
    }

    internal static AnswerStatus Check(ReadOnlySpan<byte> answer, ReadOnlySpan<byte> request)
    {
        if (answer.Length < HeadLength)
        {
            return AnswerStatus.WrongLength;
        }

        if (answer[1] != request[1] || answer[2] != request[2])
        {
            return AnswerStatus.WrongEcho;
        }

        return PduLength(answer) == answer.Length ? AnswerStatus.Ok : AnswerStatus.WrongLength;
    }
}
