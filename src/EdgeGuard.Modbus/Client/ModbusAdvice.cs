namespace EdgeGuard.Modbus.Client;

/// <summary>
/// What became of a request, in words for a person: what it means and what to do. Names of the exceptions from
/// Application Protocol V1.1b3, section 7; 07 stands in older issues only (from memory).
/// </summary>
public static class ModbusAdvice
{
    /// <summary>Sentence for an exception code.</summary>
    public static string Of(ModbusExceptionCode code) => code switch
    {
        ModbusExceptionCode.IllegalFunction =>
            "exception 01, illegal function: the device does not offer this function; map the value in another table; a single value that is refused is also tried by the other function (16 for 06, 15 for 05)",
        ModbusExceptionCode.IllegalDataAddress =>
            "exception 02, illegal data address: the address, or address plus count, does not exist; the map is off by one, or a block spans a gap and has to be split",
        ModbusExceptionCode.IllegalDataValue =>
            "exception 03, illegal data value: the count or the value is not allowed; the value is outside the limits of the device, or too many registers are asked for at once",
        ModbusExceptionCode.ServerDeviceFailure =>
            "exception 04, server device failure: the device failed while it acted; look at the device",
        ModbusExceptionCode.Acknowledge =>
            "exception 05, acknowledge: accepted, but it takes long; read the result later",
        ModbusExceptionCode.ServerDeviceBusy =>
            "exception 06, server device busy: the device is busy with a long command; try again later",
        (ModbusExceptionCode)0x07 =>
            "exception 07, negative acknowledge (older issues of the protocol): the device cannot do this now; look at its manual",
        ModbusExceptionCode.MemoryParityError =>
            "exception 08, memory parity error: the memory of the device is faulty; have the device looked at",
        ModbusExceptionCode.GatewayPathUnavailable =>
            "exception 0A, gateway path unavailable: the gateway knows no such unit id, or its line is not set up; check the unit id here and in the gateway",
        ModbusExceptionCode.GatewayTargetFailedToRespond =>
            "exception 0B, gateway target failed to respond: the gateway works, the device behind it does not answer; check its power, its cable, its unit id, bit rate and parity",
        _ => $"exception {(byte)code:X2}: a code of the device's maker; look at its manual",
    };

    /// <summary>Sentence for a bad answer.</summary>
    public static string Of(AnswerFault fault) => fault switch
    {
        AnswerFault.ProtocolId or AnswerFault.FrameLength =>
            "the peer does not speak Modbus TCP: check the port, and whether it is a serial device server in raw mode (that is RTU over TCP)",
        AnswerFault.TransactionId =>
            "an answer with a transaction id that was not sent: two clients share a poor gateway, or the device always answers with id 0 (there is an option for that)",
        AnswerFault.UnitId =>
            "another unit answered than was asked: check the unit id here and in the device or gateway, and that no two devices of the line have the same",
        AnswerFault.Function => "the answer to another function: two clients share a poor gateway, or a late answer of the device",
        AnswerFault.PduLength => "the answer is longer or shorter than what was asked for: the device limits the count, or a gateway cuts answers",
        AnswerFault.Echo =>
            "the write was answered with another address, value or count: the device limits what it is given, or the adapter hears itself (there is an option for that)",
        AnswerFault.ExceptionCode => "an exception with code 00, which does not exist: a poor gateway",
        AnswerFault.Crc =>
            "a wrong CRC: bit rate, parity or stop bits differ, the line is disturbed or not terminated, or two devices answer at once",
        AnswerFault.UnknownFunction => "no frame of this protocol: bit rate or parity differ, or another protocol runs on the line",
        _ => "the answer fits",
    };

    /// <summary>Sentence for a result.</summary>
    /// <param name="result">The result of the request.</param>
    /// <param name="fault">The fault of the link, for a bad answer.</param>
    public static string Of(ModbusResult result, AnswerFault fault) => result.Outcome switch
    {
        ModbusOutcome.Good => "the answer fits the request",
        ModbusOutcome.Timeout =>
            "no answer in time: is the device on, is the unit id right, is the time-out longer than the device's own answer time (a gateway in front of a serial line adds to it)?",
        ModbusOutcome.DeviceException => Of(result.Exception),
        ModbusOutcome.BadAnswer => Of(fault),
        ModbusOutcome.NotConnected => "there is no connection; nothing was sent",
        ModbusOutcome.ConnectionLost =>
            "the connection broke in the middle; a write may or may not have arrived: the device was restarted, a cable was pulled, or its connection limit is reached",
        ModbusOutcome.BroadcastSent => "the broadcast is sent; nobody answers one",
        _ => "nothing was asked",
    };
}
