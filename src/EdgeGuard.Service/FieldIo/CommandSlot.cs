using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// The one place where the latest write of one command waits: words, direction, phase and a sequence number in a
/// single 64-bit word, so that scan thread and worker exchange it without a lock and no queue can grow. The rules
/// that decide: the latest value wins; an energising value never displaces a de-energising one that has not been
/// confirmed; when the link is lost energising values fail and de-energising ones go back to waiting.
/// </summary>
public sealed class CommandSlot
{
    private const long TwoWordsBit = 1L << 32;
    private const long DeEnergisingBit = 1L << 33;
    private const int PhaseShift = 34;
    private const long PhaseMask = 7L << PhaseShift;
    private const int SequenceShift = 37;
    private const long SequenceMask = ((1L << 26) - 1) << SequenceShift;
    private const long None = 0L << PhaseShift;
    private const long Waiting = 1L << PhaseShift;
    private const long Underway = 2L << PhaseShift;
    private const long Confirmed = 3L << PhaseShift;
    private const long Failed = 4L << PhaseShift;

    private long _state;

    /// <summary>What became of the latest write.</summary>
    public CommandFeedback Feedback => (Volatile.Read(ref _state) & PhaseMask) switch
    {
        None => CommandFeedback.None,
        Confirmed => CommandFeedback.Confirmed,
        Failed => CommandFeedback.Failed,
        _ => CommandFeedback.Outstanding,
    };

    /// <summary>True while a write waits to be sent (not while it is under way).</summary>
    public bool IsWaiting => (Volatile.Read(ref _state) & PhaseMask) == Waiting;

    /// <summary>Scan thread: offers a write. False when it yields to an unconfirmed de-energising one.</summary>
    /// <param name="words">One word, or two with the first in the upper half.</param>
    /// <param name="twoWords">True for two registers.</param>
    /// <param name="deEnergising">True when the write can only remove power.</param>
    public bool Offer(uint words, bool twoWords, bool deEnergising) => Offer(words, twoWords, deEnergising, out _);

    /// <summary>Scan thread: offers a write. False when it yields to an unconfirmed de-energising one.</summary>
    /// <param name="words">One word, or two with the first in the upper half.</param>
    /// <param name="twoWords">True for two registers.</param>
    /// <param name="deEnergising">True when the write can only remove power.</param>
    /// <param name="superseded">Whether it takes the place of one that was not sent yet.</param>
    public bool Offer(uint words, bool twoWords, bool deEnergising, out bool superseded)
    {
        bool taken = Replace(words, twoWords, deEnergising, Waiting, out long before);
        superseded = taken && before == Waiting;
        return taken;
    }

    /// <summary>Scan thread: records an energising write as failed without sending it.</summary>
    public void Refuse() => Replace(0, twoWords: false, deEnergising: false, Failed, out _);

    /// <summary>Worker: takes the waiting write of the wanted direction; 0 when there is none.</summary>
    public long Take(bool deEnergising)
    {
        while (true)
        {
            long seen = Volatile.Read(ref _state);
            if ((seen & PhaseMask) != Waiting || IsDeEnergising(seen) != deEnergising)
            {
                return 0;
            }

            long taken = (seen & ~PhaseMask) | Underway;
            if (Interlocked.CompareExchange(ref _state, taken, seen) == seen)
            {
                return taken;
            }
        }
    }

    /// <summary>Worker: reports the outcome of a taken write; ignored when a newer one waits.</summary>
    public void Complete(long taken, bool confirmed) =>
        Interlocked.CompareExchange(ref _state, (taken & ~PhaseMask) | (confirmed ? Confirmed : Failed), taken);

    /// <summary>Worker: the link was lost during a taken write. De-energising goes back to waiting, energising fails.</summary>
    public void LinkLost(long taken) =>
        Interlocked.CompareExchange(ref _state, (taken & ~PhaseMask) | (IsDeEnergising(taken) ? Waiting : Failed), taken);

    /// <summary>Worker: a taken write was not carried out and waits again; ignored when a newer one does.</summary>
    public void PutBack(long taken) =>
        Interlocked.CompareExchange(ref _state, (taken & ~PhaseMask) | Waiting, taken);

    /// <summary>Worker: fails a waiting energising write. True when there was one.</summary>
    public bool DropEnergising()
    {
        long taken = Take(deEnergising: false);
        if (taken == 0)
        {
            return false;
        }

        Complete(taken, confirmed: false);
        return true;
    }

    /// <summary>The words of a taken write: one, or two with the first in the upper half.</summary>
    public static uint WordsOf(long taken) => unchecked((uint)taken);

    /// <summary>True when a taken write covers two registers.</summary>
    public static bool IsTwoWords(long taken) => (taken & TwoWordsBit) != 0;

    /// <summary>True when a taken write can only remove power.</summary>
    public static bool IsDeEnergising(long taken) => (taken & DeEnergisingBit) != 0;

    private bool Replace(uint words, bool twoWords, bool deEnergising, long phase, out long before)
    {
        while (true)
        {
            long seen = Volatile.Read(ref _state);
            before = seen & PhaseMask;
            if (!deEnergising && IsDeEnergising(seen) && before is Waiting or Underway)
            {
                return false;
            }

            long next = words | phase | NextSequence(seen);
            next |= twoWords ? TwoWordsBit : 0;
            next |= deEnergising ? DeEnergisingBit : 0;
            if (Interlocked.CompareExchange(ref _state, next, seen) == seen)
            {
                return true;
            }
        }
    }

    private static long NextSequence(long seen) => unchecked((seen & SequenceMask) + (1L << SequenceShift)) & SequenceMask;
}
