using EdgeGuard.Modbus;

namespace EdgeGuard.Service.Configuration;

// Time on the wire, computed before anything is started. The rules are those of the serial line specification V1.02:
// 11 bits a character (2.5.1), a silent interval of 3.5 characters between frames, fixed at 1.75 ms above 19200 baud
// (2.5.1.1). A device that frames by that interval cannot answer sooner, and most take longer: how much is its answer
// delay, a figure of the device that is stated in the site file or assumed and printed as such.

/// <summary>How long Modbus transactions take.</summary>
public static class LineTiming
{
    /// <summary>Answer delay assumed for a device on Ethernet, ms; an assumption, printed as such.</summary>
    public const double AssumedTcpDelayMs = 5;

    /// <summary>Answer delay assumed for a device on a serial line, ms; an assumption, printed as such.</summary>
    public const double AssumedSerialDelayMs = 12;

    private const double BitsPerCharacter = 11;
    private const double FastestVariableBaud = 19_200;
    private const double FixedSilenceMs = 1.75;
    private const double SilenceCharacters = 3.5;
    private const int ReadRequestBytes = 8; // unit id, function, address, count, CRC
    private const int AnswerOverheadBytes = 5; // unit id, function, byte count, CRC
    private const int SingleWriteBytes = 8; // request and answer are the same: unit id, function, address, value, CRC
    private const int MultipleWriteBytes = 9; // request without its registers; the answer is as long as a single write

    /// <summary>The silent interval between two frames, ms.</summary>
    public static double SilenceMs(int baud) =>
        baud > FastestVariableBaud ? FixedSilenceMs : SilenceCharacters * CharacterMs(baud);

    /// <summary>One read, from the first byte of the request to the moment at which the next may begin, ms.</summary>
    /// <param name="table">Table that is read.</param>
    /// <param name="count">Registers or bits.</param>
    /// <param name="baud">Rate of the line; 0 for none, when the answer delay is all that counts.</param>
    /// <param name="answerDelayMs">Time the device takes before it answers, ms.</param>
    public static double ReadMs(ModbusTable table, int count, int baud, double answerDelayMs)
    {
        bool bits = table is ModbusTable.Coils or ModbusTable.DiscreteInputs;
        int bytes = bits ? (count + 7) / 8 : 2 * count;
        return TransactionMs(ReadRequestBytes + AnswerOverheadBytes + bytes, baud, answerDelayMs);
    }

    /// <summary>One write of <paramref name="registers"/> registers, or of one coil, ms; the other parameters as above.</summary>
    public static double WriteMs(int registers, int baud, double answerDelayMs)
    {
        int request = registers > 1 ? MultipleWriteBytes + (2 * registers) : SingleWriteBytes;
        return TransactionMs(request + SingleWriteBytes, baud, answerDelayMs);
    }

    private static double TransactionMs(int characters, int baud, double answerDelayMs) =>
        baud == 0 ? answerDelayMs : (characters * CharacterMs(baud)) + Math.Max(answerDelayMs, SilenceMs(baud)) + SilenceMs(baud);

    private static double CharacterMs(int baud) => BitsPerCharacter * 1_000 / baud;
}
