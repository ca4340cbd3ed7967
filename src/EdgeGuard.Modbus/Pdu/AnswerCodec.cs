using System.Buffers.Binary;

namespace EdgeGuard.Modbus.Pdu;

/// <summary>
/// Answers of all functions and exception answers (Application Protocol V1.1b3, sections 6 and 7).
/// An answer has no meaning without its request: <see cref="Check"/> takes both, and accepts only what repeats the
/// request exactly where the protocol says it must. A wrong answer taken for a right one could hold power.
/// </summary>
public static class AnswerCodec
{
    private const int EchoLength = 5;
    private const int ExceptionLength = 2;

    /// <summary>Writes an answer of functions 01 and 02 and returns its length.</summary>
    public static int WriteBits(Span<byte> pdu, FunctionCode function, ReadOnlySpan<bool> values)
    {
        int byteCount = PduBits.ByteCount(values.Length);
        pdu[0] = (byte)function;
        pdu[1] = (byte)byteCount;
        PduBits.Pack(values, pdu[2..]);
        return 2 + byteCount;
    }

    /// <summary>Writes an answer of functions 03 and 04 and returns its length.</summary>
    public static int WriteRegisters(Span<byte> pdu, FunctionCode function, ReadOnlySpan<ushort> values)
    {
        pdu[0] = (byte)function;
        pdu[1] = (byte)(2 * values.Length);
        PduRegisters.Pack(values, pdu[2..]);
        return 2 + (2 * values.Length);
    }

    /// <summary>Writes the echo of functions 15 and 16 (first five bytes of the request) and of 05, 06, 08 and 22 (all of it) and returns its length.</summary>
    public static int WriteEcho(Span<byte> pdu, ReadOnlySpan<byte> request)
    {
        int length = EchoedLength(request);
        request[..length].CopyTo(pdu);
        return length;
    }

    /// <summary>Writes an answer of function 07 and returns its length.</summary>
    public static int WriteExceptionStatus(Span<byte> pdu, byte status)
    {
        pdu[0] = (byte)FunctionCode.ReadExceptionStatus;
        pdu[1] = status;
        return 2;
    }

    /// <summary>Writes an exception answer (section 7) and returns its length.</summary>
    public static int WriteException(Span<byte> pdu, byte function, ModbusExceptionCode code)
    {
        pdu[0] = (byte)(function | PduLimits.ExceptionFlag);
        pdu[1] = (byte)code;
        return ExceptionLength;
    }

    /// <summary>Holds an answer against the request it must belong to.</summary>
    /// <param name="answer">PDU that was received.</param>
    /// <param name="request">PDU that was sent; must be one that <see cref="RequestCodec"/> wrote.</param>
    /// <param name="data">Values of a read as on the wire; empty unless the verdict is Ok.</param>
    /// <param name="exception">Exception code; None unless the verdict is DeviceException.</param>
    public static AnswerStatus Check(
        ReadOnlySpan<byte> answer, ReadOnlySpan<byte> request, out ReadOnlySpan<byte> data, out ModbusExceptionCode exception)
    {
        data = default;
        exception = ModbusExceptionCode.None;
        if (answer.Length < ExceptionLength || request.IsEmpty)
        {
            return AnswerStatus.WrongLength;
        }

        if (answer[0] == (request[0] | PduLimits.ExceptionFlag))
        {
            return CheckException(answer, out exception);
        }

        if (answer[0] != request[0])
        {
            return AnswerStatus.WrongFunction;
        }

        return (FunctionCode)request[0] switch
        {
            FunctionCode.ReadCoils or FunctionCode.ReadDiscreteInputs =>
                CheckRead(answer, PduBits.ByteCount(Quantity(request)), out data),
            FunctionCode.ReadHoldingRegisters or FunctionCode.ReadInputRegisters =>
                CheckRead(answer, 2 * Quantity(request), out data),
            FunctionCode.ReadWriteMultipleRegisters => CheckRead(answer, 2 * Quantity(request), out data),
            FunctionCode.ReadExceptionStatus => CheckStatus(answer, out data),
            FunctionCode.EncapsulatedInterface => DeviceIdCodec.Check(answer, request),
            _ => CheckEcho(answer, request),
        };
    }

    /// <summary>Puts the values of a good read into <paramref name="words"/>: registers as they are, bits as 0 or 1, the status of function 07 as one word.</summary>
    /// <param name="data">What <see cref="Check"/> gave; empty for a write, which leaves the words untouched.</param>
    /// <param name="request">PDU that was sent.</param>
    /// <param name="words">At least as many places as items were asked for.</param>
    public static void Unpack(ReadOnlySpan<byte> data, ReadOnlySpan<byte> request, Span<ushort> words)
    {
        if (data.IsEmpty)
        {
            return;
        }

        switch ((FunctionCode)request[0])
        {
            case FunctionCode.ReadCoils or FunctionCode.ReadDiscreteInputs:
                PduBits.Unpack(data, words[..Quantity(request)]);
                break;
            case FunctionCode.ReadExceptionStatus:
                words[0] = data[0];
                break;
            default:
                PduRegisters.Unpack(data, words[..Quantity(request)]);
                break;
        }
    }

    private static int EchoedLength(ReadOnlySpan<byte> request) =>
        (FunctionCode)request[0] is FunctionCode.WriteMultipleCoils or FunctionCode.WriteMultipleRegisters ? EchoLength : request.Length;

    private static AnswerStatus CheckStatus(ReadOnlySpan<byte> answer, out ReadOnlySpan<byte> data)
    {
        bool isWhole = answer.Length == 2;
        data = isWhole ? answer[1..] : default;
        return isWhole ? AnswerStatus.Ok : AnswerStatus.WrongLength;
    }

    private static int Quantity(ReadOnlySpan<byte> request) => BinaryPrimitives.ReadUInt16BigEndian(request[3..]);

    private static AnswerStatus CheckException(ReadOnlySpan<byte> answer, out ModbusExceptionCode exception)
    {
        exception = ModbusExceptionCode.None;
        if (answer.Length != ExceptionLength)
        {
            return AnswerStatus.WrongLength;
        }

        if (answer[1] == 0)
        {
            return AnswerStatus.WrongExceptionCode;
        }

        exception = (ModbusExceptionCode)answer[1];
        return AnswerStatus.DeviceException;
    }

    private static AnswerStatus CheckRead(ReadOnlySpan<byte> answer, int byteCount, out ReadOnlySpan<byte> data)
    {
        data = default;
        if (answer[1] != byteCount)
        {
            return AnswerStatus.WrongByteCount;
        }

        if (answer.Length != 2 + byteCount)
        {
            return AnswerStatus.WrongLength;
        }

        data = answer[2..];
        return AnswerStatus.Ok;
    }

    private static AnswerStatus CheckEcho(ReadOnlySpan<byte> answer, ReadOnlySpan<byte> request)
    {
        int length = EchoedLength(request);
        if (answer.Length != length)
        {
            return AnswerStatus.WrongLength;
        }

        return answer.SequenceEqual(request[..length]) ? AnswerStatus.Ok : AnswerStatus.WrongEcho;
    }
}
