using EdgeGuard.Modbus.Pdu;

namespace EdgeGuard.Modbus.Server;

/// <summary>
/// Answers of function 43, type 14 (V1.1b3, 6.21). A client that asks for more than the device has gets what there is
/// with the conformity level that says so; a stream that is begun at an unknown object begins at the first; a single
/// object that is unknown is exception 02. Maker's objects (0x80 and up) are not offered.
/// </summary>
internal static class DeviceIdAnswer
{
    private const byte LastBasic = 2;
    private const byte LastRegular = 6;
    private const byte BasicLevel = 0x81; // basic, and single objects can be read
    private const byte RegularLevel = 0x82;

    public static ModbusExceptionCode Write(IModbusDevice device, PduRequest request, Span<byte> answer, out int length)
    {
        length = 0;
        if (device is not IModbusDiagnosticDevice diagnostic || diagnostic.IdentificationObject(0).IsEmpty)
        {
            return ModbusExceptionCode.IllegalFunction;
        }

        DeviceIdAccess access = (DeviceIdAccess)request.Data[0];
        byte objectId = request.Data[1];
        length = DeviceIdCodec.WriteHead(answer, access, Level(diagnostic));
        return access == DeviceIdAccess.Individual
            ? WriteOne(diagnostic, objectId, answer, ref length)
            : WriteStream(diagnostic, objectId, access == DeviceIdAccess.Basic ? LastBasic : LastRegular, answer, ref length);
    }

    private static byte Level(IModbusDiagnosticDevice device)
    {
        for (byte id = LastBasic + 1; id <= LastRegular; id++)
        {
            if (!device.IdentificationObject(id).IsEmpty)
            {
                return RegularLevel;
            }
        }

        return BasicLevel;
    }

    private static ModbusExceptionCode WriteOne(IModbusDiagnosticDevice device, byte objectId, Span<byte> answer, ref int length)
    {
        ReadOnlySpan<byte> value = objectId <= LastRegular ? device.IdentificationObject(objectId) : default;
        if (value.IsEmpty)
        {
            return ModbusExceptionCode.IllegalDataAddress;
        }

        return DeviceIdCodec.TryAppend(answer, ref length, objectId, value) ? ModbusExceptionCode.None : ModbusExceptionCode.ServerDeviceFailure;
    }

    private static ModbusExceptionCode WriteStream(
        IModbusDiagnosticDevice device, byte firstId, byte lastId, Span<byte> answer, ref int length)
    {
        bool isKnown = firstId <= lastId && !device.IdentificationObject(firstId).IsEmpty;
        for (byte id = isKnown ? firstId : (byte)0; id <= lastId; id++)
        {
            ReadOnlySpan<byte> value = device.IdentificationObject(id);
            if (value.IsEmpty || DeviceIdCodec.TryAppend(answer, ref length, id, value))
            {
                continue;
            }

            if (length == DeviceIdCodec.HeadLength)
            {
                return ModbusExceptionCode.ServerDeviceFailure; // an object longer than any answer
            }

            DeviceIdCodec.WriteMoreFollows(answer, id);
            break;
        }

        return ModbusExceptionCode.None;
    }
}
