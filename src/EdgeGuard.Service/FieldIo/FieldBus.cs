using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// All links of the site as the scan thread sees them: words out of slots, writes into slots. Nothing here waits for
/// a worker. An energising write for a link that is down fails at once and is never kept; an energising value that
/// cannot be encoded or lies outside its range is not written at all.
/// </summary>
public sealed class FieldBus : IFieldPort, IDisposable
{
    private const int DisposeLimitMs = 1_000;

    private readonly LinkWorker[] _workers;
    private readonly BlockSlot?[] _blocks;
    private readonly VerdictCombiner _verdicts;
    private readonly CommandSlot?[] _commands;
    private readonly WritePointTable?[] _points;
    private readonly LinkWorker?[] _workerOfCommand;
    private readonly bool[] _wake;
    private readonly int[] _workerIndex;
    private readonly ushort[] _words = new ushort[2];

    /// <summary>Wires the slots of all workers to block and command indices.</summary>
    /// <param name="workers">One worker a link.</param>
    /// <param name="blockCount">Number of poll blocks of the site; each belongs to exactly one link.</param>
    /// <param name="unitCount">Number of units.</param>
    /// <param name="verdicts">Blocks that are made of others.</param>
    public FieldBus(IReadOnlyList<LinkWorker> workers, int blockCount, int unitCount, IReadOnlyList<CombinedVerdictTable>? verdicts = null)
    {
        ArgumentNullException.ThrowIfNull(workers);
        _workers = [.. workers];
        _wake = new bool[_workers.Length];
        _blocks = new BlockSlot?[blockCount];
        _verdicts = new VerdictCombiner(verdicts ?? []);
        int commandCount = unitCount * CommandRoles.Count;
        _commands = new CommandSlot?[commandCount];
        _points = new WritePointTable?[commandCount];
        _workerOfCommand = new LinkWorker?[commandCount];
        _workerIndex = new int[commandCount];
        for (int w = 0; w < _workers.Length; w++)
        {
            Wire(w);
        }

        for (int i = 0; i < blockCount; i++)
        {
            if (_blocks[i] is null && !_verdicts.Makes(i))
            {
                throw new ArgumentException($"No link polls block {i}.", nameof(blockCount));
            }
        }
    }

    /// <summary>The workers, one a link.</summary>
    public IReadOnlyList<LinkWorker> Workers => _workers;

    /// <summary>Starts all workers; polls keep their lead before the first scan and its successors.</summary>
    public void Start(long firstScanUs)
    {
        foreach (LinkWorker worker in _workers)
        {
            worker.Start(firstScanUs);
        }
    }

    /// <inheritdoc/>
    public void Fill(RawScan scan, long nominalUs)
    {
        ArgumentNullException.ThrowIfNull(scan);
        for (int i = 0; i < _blocks.Length; i++)
        {
            if (_blocks[i] is not { } slot)
            {
                continue;
            }

            BlockReading reading = slot.Take();
            ref RawBlock block = ref scan.Blocks[i];
            block.Result = reading.Result;
            block.ExceptionCode = reading.ExceptionCode;
            block.ReadCount = reading.ReadCount;
            block.AgeMs = reading.ReadCount == 0 ? int.MaxValue : AgeMs(nominalUs - reading.SentUs);
            reading.Words.CopyTo(block.Words, 0);
        }

        _verdicts.Fill(scan);

        for (int i = 0; i < _commands.Length; i++)
        {
            scan.Feedback[i] = _commands[i]?.Feedback ?? CommandFeedback.None;
        }

        CountHeldRenewals(scan);
    }

    /// <inheritdoc/>
    public void Offer(int unit, CommandRole role, in CommandDecision decision)
    {
        int index = (unit * CommandRoles.Count) + (int)role;
        if (_commands[index] is not { } slot || _points[index] is not { } point)
        {
            return;
        }

        LinkEngine engine = _workerOfCommand[index]!.Engine;
        LinkFigures figures = engine.Counters;
        if (!TryEncode(point, decision, out uint words, out bool twoWords)
            || (!decision.DeEnergising && !engine.IsOnline))
        {
            figures.Add(LinkFigure.WithheldWrites);
            slot.Refuse();
            return;
        }

        if (!slot.Offer(words, twoWords, decision.DeEnergising, out bool superseded))
        {
            figures.Add(LinkFigure.WithheldWrites);
        }
        else if (superseded)
        {
            figures.Add(LinkFigure.SupersededWrites);
        }

        _wake[_workerIndex[index]] = true;
    }

    /// <inheritdoc/>
    public void WakeWorkers()
    {
        for (int w = 0; w < _workers.Length; w++)
        {
            if (_wake[w])
            {
                _wake[w] = false;
                _workers[w].Wake();
            }
        }
    }

    /// <summary>True when no write of the unit waits or is under way.</summary>
    public bool IsQuiet(int unit)
    {
        for (int role = 0; role < CommandRoles.Count; role++)
        {
            if (_commands[(unit * CommandRoles.Count) + role]?.Feedback == CommandFeedback.Outstanding)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Conducted: polls every link once and waits for all.</summary>
    public void PollNow()
    {
        foreach (LinkWorker worker in _workers)
        {
            worker.AskPoll();
        }

        WaitDone();
    }

    /// <summary>Conducted: waits until every offered write has been sent or has failed.</summary>
    public void ServeNow()
    {
        foreach (LinkWorker worker in _workers)
        {
            worker.AskServe();
        }

        WaitDone();
    }

    /// <summary>Stops all workers and closes all connections. The limit is one for all: a hundred dead links take as long as one.</summary>
    public void Stop(int limitMs)
    {
        foreach (LinkWorker worker in _workers)
        {
            worker.BeginStop();
        }

        long endMs = Environment.TickCount64 + limitMs;
        foreach (LinkWorker worker in _workers)
        {
            worker.Stop((int)Math.Max(0, endMs - Environment.TickCount64));
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Stop(DisposeLimitMs);
        foreach (LinkWorker worker in _workers)
        {
            worker.Dispose();
        }
    }

    private void Wire(int w)
    {
        LinkEngine engine = _workers[w].Engine;
        for (int i = 0; i < engine.Blocks.Length; i++)
        {
            _blocks[engine.Table.Polls[i].Block] = engine.Blocks[i];
        }

        for (int i = 0; i < engine.Table.Settings.Count; i++)
        {
            _blocks[engine.Table.Settings[i].Block] = engine.Settings.Facts[i];
        }

        for (int i = 0; i < engine.Commands.Length; i++)
        {
            WritePointTable point = engine.Table.Writes[i];
            _commands[point.Index] = engine.Commands[i];
            _points[point.Index] = point;
            _workerOfCommand[point.Index] = _workers[w];
            _workerIndex[point.Index] = w;
        }
    }

    /// <summary>While a token is under way the core makes no further one; a link on which that happens often is too slow.</summary>
    private void CountHeldRenewals(RawScan scan)
    {
        for (int i = (int)CommandRole.Heartbeat; i < scan.Feedback.Length; i += CommandRoles.Count)
        {
            if (scan.Feedback[i] == CommandFeedback.Outstanding)
            {
                _workerOfCommand[i]!.Engine.Counters.Add(LinkFigure.HeldRenewals);
            }
        }
    }

    private void WaitDone()
    {
        foreach (LinkWorker worker in _workers)
        {
            worker.WaitDone();
        }
    }

    private bool TryEncode(WritePointTable point, in CommandDecision decision, out uint words, out bool twoWords)
    {
        words = 0;
        twoWords = false;
        // The range keeps a wrong setpoint out of the cabinet; it must never keep a removal of power out.
        bool inRange = decision.DeEnergising || (decision.Value >= point.Min && decision.Value <= point.Max);
        if (!inRange || !WordEncoder.TryEncode(decision.Value, point.Type, point.Order, point.Scale, point.Offset, _words, out int count))
        {
            return false;
        }

        twoWords = count == 2;
        words = twoWords ? ((uint)_words[0] << 16) | _words[1] : _words[0];
        return true;
    }

    private static int AgeMs(long ageUs) => (int)Math.Clamp(ageUs / 1000, 0, int.MaxValue);
}
