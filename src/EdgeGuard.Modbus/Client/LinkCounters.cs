using System.Globalization;

namespace EdgeGuard.Modbus.Client;

/// <summary>
/// The running counters of a link, one for each <see cref="LinkCounter"/>: written by the thread of the link, read by any.
/// Each figure is whole, together they are no snapshot.
/// </summary>
public sealed class LinkCounters
{
    /// <summary>How many counters there are.</summary>
    public const int Count = (int)LinkCounter.SilentClosings + 1;

    private readonly long[] _counts = new long[Count];

    /// <summary>A counter as it is now.</summary>
    public long this[LinkCounter counter] => Volatile.Read(ref _counts[(int)counter]);

    /// <summary>Counts. One thread only.</summary>
    /// <param name="counter">What happened.</param>
    /// <param name="by">How often.</param>
    /// <remarks>One writer: a plain store that other threads see whole is enough, and costs no bus lock in each transaction.</remarks>
    public void Add(LinkCounter counter, long by = 1)
    {
        ref long count = ref _counts[(int)counter];
        Volatile.Write(ref count, count + by);
    }

    /// <summary>The counters that are not zero, in words: for messages and tests.</summary>
    public override string ToString() => string.Join(", ", Enum.GetValues<LinkCounter>()
        .Where(c => this[c] != 0)
        .Select(c => string.Create(CultureInfo.InvariantCulture, $"{c} {this[c]}")));

    /// <summary>The end of a transaction, by outcome and code of exception.</summary>
    internal void Ended(ModbusResult result)
    {
        if (Of(result.Outcome) is { } counter)
        {
            Add(counter);
        }

        if (result.Outcome == ModbusOutcome.DeviceException)
        {
            Add(Of(result.Exception));
        }
    }

    /// <summary>The cause of a bad answer, beside its outcome.</summary>
    internal void Bad(AnswerFault fault) => Add(Of(fault));

    /// <summary>An answer that was dropped.</summary>
    internal void Late(bool isDuplicate)
    {
        Add(LinkCounter.LateAnswers);
        if (isDuplicate)
        {
            Add(LinkCounter.DuplicateAnswers);
        }
    }

    private static LinkCounter? Of(ModbusOutcome outcome) => outcome switch
    {
        ModbusOutcome.Good => LinkCounter.Answers,
        ModbusOutcome.DeviceException => LinkCounter.Exceptions,
        ModbusOutcome.Timeout => LinkCounter.Timeouts,
        ModbusOutcome.BadAnswer => LinkCounter.BadAnswers,
        ModbusOutcome.ConnectionLost => LinkCounter.BrokenRequests,
        ModbusOutcome.BroadcastSent => LinkCounter.Broadcasts,
        _ => null, // nothing was begun
    };

    private static LinkCounter Of(ModbusExceptionCode code) => code switch
    {
        ModbusExceptionCode.IllegalFunction => LinkCounter.Exception01,
        ModbusExceptionCode.IllegalDataAddress => LinkCounter.Exception02,
        ModbusExceptionCode.IllegalDataValue => LinkCounter.Exception03,
        ModbusExceptionCode.ServerDeviceFailure => LinkCounter.Exception04,
        ModbusExceptionCode.Acknowledge => LinkCounter.Exception05,
        ModbusExceptionCode.ServerDeviceBusy => LinkCounter.Exception06,
        ModbusExceptionCode.MemoryParityError => LinkCounter.Exception08,
        ModbusExceptionCode.GatewayPathUnavailable => LinkCounter.Exception0A,
        ModbusExceptionCode.GatewayTargetFailedToRespond => LinkCounter.Exception0B,
        _ => LinkCounter.OtherExceptions,
    };

    private static LinkCounter Of(AnswerFault fault) => fault switch
    {
        AnswerFault.UnitId => LinkCounter.WrongUnit,
        AnswerFault.Function => LinkCounter.WrongFunction,
        AnswerFault.PduLength => LinkCounter.WrongLength,
        AnswerFault.Echo => LinkCounter.WrongEcho,
        AnswerFault.TransactionId => LinkCounter.WrongTransaction,
        AnswerFault.Crc => LinkCounter.ChecksumErrors,
        _ => LinkCounter.Malformed,
    };
}
