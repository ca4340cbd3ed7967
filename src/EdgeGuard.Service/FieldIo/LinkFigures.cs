using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// What one link has been through since start, by <see cref="LinkFigure"/>. Each figure has one writer: the worker of the link,
/// or the scan thread for what it withholds from it. Read by anyone. What the link itself counts on the wire is added when
/// the figures are copied.
/// </summary>
/// <param name="wire">What the link counts itself; null where a stack does not.</param>
public sealed class LinkFigures(LinkCounters? wire)
{
    private readonly long[] _figures = new long[LinkFigureTexts.Count];

    /// <summary>A figure as it is now, as this side counts it.</summary>
    public long this[LinkFigure figure] => Volatile.Read(ref _figures[(int)figure]);

    /// <summary>Outcome of the latest request that was not answered well, as it ends a connection; None before the first. Its worker only.</summary>
    internal ModbusOutcome LastFailure { get; private set; }

    /// <summary>Requests that the link ended as time-outs without sending them; always 0 where a stack does not count them.</summary>
    internal long HeldBack => wire?[LinkCounter.DeferredRequests] ?? 0;

    internal void Add(LinkFigure figure, long by = 1)
    {
        ref long value = ref _figures[(int)figure];
        Volatile.Write(ref value, value + by);
    }

    internal void AddRead(ModbusResult result)
    {
        Add(result.IsGood ? LinkFigure.GoodReads : LinkFigure.FailedReads);
        AddOutcome(result.Outcome);
    }

    internal void AddWrite(ModbusResult result)
    {
        Add(result.IsGood ? LinkFigure.GoodWrites : LinkFigure.FailedWrites);
        AddOutcome(result.Outcome);
    }

    /// <summary>Keeps the round trip of what was answered, exceptions of the device included.</summary>
    internal void NoteRoundTrip(ModbusOutcome outcome, long us)
    {
        if (outcome is ModbusOutcome.Good or ModbusOutcome.DeviceException)
        {
            Volatile.Write(ref _figures[(int)LinkFigure.RoundTripLast], us);
            Volatile.Write(ref _figures[(int)LinkFigure.RoundTripMax], Math.Max(this[LinkFigure.RoundTripMax], us));
        }
    }

    /// <summary>All figures in the order of <see cref="LinkFigure"/>; allocates nothing.</summary>
    internal void CopyTo(Span<long> figures, bool isUp)
    {
        for (int i = 0; i < _figures.Length; i++)
        {
            figures[i] = Volatile.Read(ref _figures[i]);
        }

        figures[(int)LinkFigure.State] = isUp ? 1 : 0;
        if (wire is not null)
        {
            WireFigures.CopyTo(wire, figures);
        }
    }

    // For a stack that does not count on the wire; where it does, its own figures stand in their place, and are the same.
    private void AddOutcome(ModbusOutcome outcome)
    {
        LastFailure = outcome is ModbusOutcome.Good or ModbusOutcome.DeviceException ? LastFailure : outcome;
        LinkFigure? figure = outcome switch
        {
            ModbusOutcome.Good => LinkFigure.Answers,
            ModbusOutcome.DeviceException => LinkFigure.Exceptions,
            ModbusOutcome.Timeout => LinkFigure.Timeouts,
            ModbusOutcome.BadAnswer => LinkFigure.BadAnswers,
            ModbusOutcome.ConnectionLost => LinkFigure.BrokenRequests,
            _ => null, // nothing was sent
        };
        if (figure is { } ended)
        {
            Add(LinkFigure.Requests);
            Add(ended);
        }
    }
}
