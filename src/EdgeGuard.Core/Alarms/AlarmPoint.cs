namespace EdgeGuard.Core.Alarms;

/// <summary>
/// One alarm over time: condition and designed suppression from each scan, requests of people in between. Hiding an alarm
/// never changes what a protective function does; it changes what people are told. Times count nominal scans.
/// Allocates nothing after start.
/// </summary>
public sealed class AlarmPoint
{
    // Three annunciations within a minute are chattering (ISA-18.2, EEMUA 191, from memory).
    private const int ChatterMs = 60_000;

    // An alarm that stands for more than a day is stale (the same).
    private const long StaleMs = 24L * 3_600_000;

    private readonly AlarmTable _table;
    private readonly long _chatterScans;
    private readonly long _staleScans;
    private bool _condition;
    private bool _suppressed;
    private bool _latchHeld;
    private long _shelvedUntil;
    private long _last = long.MinValue / 2;
    private long _secondLast = long.MinValue / 2;
    private long _thirdLast = long.MinValue / 2;

    /// <summary>A normal alarm.</summary>
    /// <param name="table">Settings.</param>
    /// <param name="scanMs">Scan period, ms, above 0.</param>
    public AlarmPoint(AlarmTable table, int scanMs)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentOutOfRangeException.ThrowIfLessThan(scanMs, 1);
        _table = table;
        _chatterScans = ChatterMs / scanMs;
        _staleScans = StaleMs / scanMs;
    }

    /// <summary>The state now.</summary>
    public AlarmState State { get; private set; } = AlarmState.Normal;

    /// <summary>Times it came to be unacknowledged: what the people on watch heard.</summary>
    public int Annunciations { get; private set; }

    /// <summary>True when the latest <see cref="Step"/> annunciated.</summary>
    public bool JustAnnunciated { get; private set; }

    /// <summary>Scan in which the condition began to stand; meaningless without one.</summary>
    public long ActiveSince { get; private set; }

    /// <summary>Last scan on the shelf; meaningless unless shelved.</summary>
    public long ShelvedUntil => _shelvedUntil;

    private AlarmFacts Facts => new(_table.IsLatching, _condition, _latchHeld, _suppressed);

    /// <summary>Takes one scan: suppression first, so that a consequence is never heard, then the condition, then the shelf.</summary>
    /// <param name="scan">Nominal scan.</param>
    /// <param name="condition">The condition stands.</param>
    /// <param name="suppressed">The designed suppression stands, for example "unit tripped" for a consequence of trips.</param>
    public void Step(long scan, bool condition, bool suppressed)
    {
        JustAnnunciated = false;
        if (suppressed != _suppressed)
        {
            // A suppression that ends shows the condition of this scan, not that of the one before.
            _suppressed = suppressed;
            if (!suppressed)
            {
                TakeCondition(scan, condition);
            }

            Go(scan, suppressed ? AlarmInput.SuppressionBegins : AlarmInput.SuppressionEnds);
        }

        TakeCondition(scan, condition);
        if (State == AlarmState.Shelved && scan > _shelvedUntil)
        {
            Go(scan, AlarmInput.ShelvingExpires);
        }
    }

    /// <summary>True when an input would change the state: where a person's request makes sense.</summary>
    /// <param name="input">The input.</param>
    public bool May(AlarmInput input) => AlarmDiagram.Next(State, input, Facts) != State;

    /// <summary>A person acknowledges: in B, D and E.</summary>
    /// <param name="scan">Nominal scan.</param>
    public AlarmAnswer Acknowledge(long scan) => Ask(scan, AlarmInput.Acknowledge);

    /// <summary>A person resets a latched, acknowledged alarm whose condition has gone: in F only.</summary>
    /// <param name="scan">Nominal scan.</param>
    public AlarmAnswer Reset(long scan)
    {
        if (State != AlarmState.LatchedAcknowledged)
        {
            return AlarmAnswer.WrongState;
        }

        _latchHeld = false;
        return Ask(scan, AlarmInput.Reset);
    }

    /// <summary>A person shelves the alarm for a limited time: in A to D, and no trip.</summary>
    /// <param name="scan">Nominal scan.</param>
    /// <param name="scans">Time on the shelf, scans, 1 to that of the table.</param>
    public AlarmAnswer Shelve(long scan, int scans)
    {
        if (!_table.MayHide)
        {
            return AlarmAnswer.IsTrip;
        }

        if (scans < 1 || scans > _table.ShelveMostScans)
        {
            return AlarmAnswer.WrongTime;
        }

        AlarmAnswer answer = Ask(scan, AlarmInput.Shelve);
        _shelvedUntil = answer == AlarmAnswer.Done ? scan + scans : _shelvedUntil;
        return answer;
    }

    /// <summary>A person takes the alarm from the shelf.</summary>
    /// <param name="scan">Nominal scan.</param>
    public AlarmAnswer Unshelve(long scan) => Ask(scan, AlarmInput.Unshelve);

    /// <summary>A person takes the alarm out of service; no trip.</summary>
    /// <param name="scan">Nominal scan.</param>
    public AlarmAnswer RemoveFromService(long scan) => _table.MayHide ? Ask(scan, AlarmInput.RemoveFromService) : AlarmAnswer.IsTrip;

    /// <summary>A person returns the alarm to service.</summary>
    /// <param name="scan">Nominal scan.</param>
    public AlarmAnswer ReturnToService(long scan) => Ask(scan, AlarmInput.ReturnToService);

    /// <summary>True when it annunciated three times within a minute, the latest of them within the last minute.</summary>
    /// <param name="scan">Nominal scan.</param>
    public bool IsChattering(long scan) => scan - _thirdLast <= _chatterScans;

    /// <summary>True when it is shown and its condition stands for more than a day.</summary>
    /// <param name="scan">Nominal scan.</param>
    public bool IsStale(long scan) => AlarmDiagram.IsOpen(State) && _condition && scan - ActiveSince > _staleScans;

    private AlarmAnswer Ask(long scan, AlarmInput input)
    {
        AlarmState before = State;
        Go(scan, input);
        return State == before ? AlarmAnswer.WrongState : AlarmAnswer.Done;
    }

    private void TakeCondition(long scan, bool condition)
    {
        _latchHeld |= condition && _table.IsLatching;
        if (condition == _condition)
        {
            return;
        }

        _condition = condition;
        ActiveSince = condition ? scan : ActiveSince;
        Go(scan, condition ? AlarmInput.ConditionBegins : AlarmInput.ConditionEnds);
    }

    private void Go(long scan, AlarmInput input)
    {
        AlarmState next = AlarmDiagram.Next(State, input, Facts);
        if (next == AlarmState.Unacknowledged && State != AlarmState.Unacknowledged)
        {
            Annunciations++;
            JustAnnunciated = true;
            _thirdLast = _secondLast;
            _secondLast = _last;
            _last = scan;
        }

        State = next;
    }
}
