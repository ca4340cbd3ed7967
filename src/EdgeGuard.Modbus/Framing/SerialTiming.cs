namespace EdgeGuard.Modbus.Framing;

/// <summary>
/// Times on a serial line (Serial Line V1.02, 2.5.1.1). A character has 11 bits whatever the parity: without parity a
/// second stop bit takes its place. Up to 19200 bit/s the silences follow the bit rate; above they are fixed, because
/// interrupts cannot follow. Everything in microseconds, rounded to the nearest.
/// </summary>
public static class SerialTiming
{
    /// <summary>Bits of a character: start, eight data, parity or second stop, stop (2.5.1).</summary>
    public const int BitsPerCharacter = 11;

    /// <summary>Above this rate, in bit/s, the silences are fixed.</summary>
    public const int FixedAboveBaud = 19_200;

    /// <summary>Turnaround after a broadcast, ms: the guide (2.4.1) calls 100 to 200 ms typical.</summary>
    public const int TypicalTurnaroundMs = 100;

    private const int FixedT15Us = 750;
    private const int FixedT35Us = 1_750;

    /// <summary>Time of <paramref name="characterCount"/> characters at <paramref name="baud"/> bit/s, in µs.</summary>
    public static int CharactersUs(int characterCount, int baud)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(characterCount);
        ArgumentOutOfRangeException.ThrowIfLessThan(baud, 1);
        return Rounded((long)characterCount * BitsPerCharacter * 1_000_000, baud);
    }

    /// <summary>t1.5, the longest silence inside a frame, in µs.</summary>
    public static int T15Us(int baud) => Silence(baud, 15, FixedT15Us);

    /// <summary>t3.5, the shortest silence between frames, in µs.</summary>
    public static int T35Us(int baud) => Silence(baud, 35, FixedT35Us);

    /// <summary>
    /// Time a transaction holds the line, in µs: request, the device's own time, answer, and the silence after each
    /// frame. For computing the load of a bus before it runs.
    /// </summary>
    /// <param name="baud">Bit rate, bit/s.</param>
    /// <param name="requestLength">Bytes of the request frame with unit and CRC.</param>
    /// <param name="answerLength">Bytes of the answer frame; 0 for a broadcast.</param>
    /// <param name="deviceUs">What the device takes between request and answer, µs (a broadcast: the turnaround).</param>
    public static long TransactionUs(int baud, int requestLength, int answerLength, int deviceUs) =>
        (long)CharactersUs(requestLength, baud) + CharactersUs(answerLength, baud) + deviceUs + ((answerLength == 0 ? 1L : 2L) * T35Us(baud));

    private static int Silence(int baud, int tenthsOfCharacter, int fixedUs)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(baud, 1);
        return baud > FixedAboveBaud ? fixedUs : Rounded((long)tenthsOfCharacter * BitsPerCharacter * 100_000, baud);
    }

    private static int Rounded(long numerator, int denominator) => (int)((numerator + (denominator / 2)) / denominator);
}
