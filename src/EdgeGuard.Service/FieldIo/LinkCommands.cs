using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// The written points of a link: whose turn it is, and what each slot is told of its write. A device that does not answer
/// its removals rests between tries (<see cref="RemovalTurns"/>), so that its neighbours' are not kept waiting.
/// </summary>
internal sealed class LinkCommands
{
    private readonly LinkTable _table;
    private readonly IModbusLink _link;
    private readonly LinkFigures _figures;
    private readonly CommandWriter _writer;
    private readonly RemovalTurns _turns;
    private readonly SilentUnits _silent;
    private int _firstEnergising;

    /// <summary>Allocates a slot for every written point.</summary>
    public LinkCommands(LinkTable table, IModbusLink link, LinkFigures figures, FieldClock clock, SilentUnits silent, DeviceNews news)
    {
        (_table, _link, _figures, _silent) = (table, link, figures, silent);
        _writer = new CommandWriter(table, link, figures, clock, news);
        _turns = new RemovalTurns(table, clock);
        Slots = [.. table.Writes.Select(static _ => new CommandSlot())];
    }

    /// <summary>Slot of each written point, in the order of <see cref="LinkTable.Writes"/>.</summary>
    public CommandSlot[] Slots { get; }

    /// <summary>A round of polls begins; rests are counted in rounds.</summary>
    public void BeginRound() => _turns.BeginRound();

    /// <summary>An attempt to connect begins; it ends rests that have lasted long enough.</summary>
    public void BeginAttempt() => _turns.BeginAttempt();

    /// <summary>Takes note of the answer to a read or a write: it ends every rest. False when it is a gateway's, which did not reach the device.</summary>
    public bool NoteAnswer(byte unitId, ModbusResult result)
    {
        bool isOfDevice = _turns.NoteAnswer(unitId, result);
        _silent.Answered(unitId, isOfDevice);
        return isOfDevice;
    }

    /// <summary>Sends every waiting de-energising write, those for a device that was silent before in its turn. False when the connection is lost.</summary>
    public bool ServeDeEnergising()
    {
        int start = _turns.First;
        for (int n = 0; n < Slots.Length; n++)
        {
            int i = (start + n) % Slots.Length;
            long taken = _turns.Rests(i) ? 0 : Slots[i].Take(deEnergising: true);
            if (taken != 0 && !Write(i, taken))
            {
                _turns.Missed(i);
                if (!_link.IsConnected)
                {
                    return false;
                }
            }
        }

        return true;
    }

    /// <summary>Sends one waiting energising write, each point in its turn; those for a device at rest fail unsent. False when there was none.</summary>
    public bool ServeOneEnergising()
    {
        int start = _firstEnergising;
        for (int n = 0; n < Slots.Length; n++)
        {
            int i = (start + n) % Slots.Length;
            if (_turns.Rests(i))
            {
                DropEnergising(Slots[i]);
            }

            long taken = Slots[i].Take(deEnergising: false);
            if (taken != 0)
            {
                _firstEnergising = (i + 1) % Slots.Length;
                Write(i, taken);
                return true;
            }
        }

        return false;
    }

    /// <summary>Fails every energising write that waits.</summary>
    public void DropEnergising()
    {
        foreach (CommandSlot slot in Slots)
        {
            DropEnergising(slot);
        }
    }

    private void DropEnergising(CommandSlot slot)
    {
        if (slot.DropEnergising())
        {
            _figures.Add(LinkFigure.DroppedWrites);
        }
    }

    /// <summary>Sends a write and tells its slot what became of it. False when the device did not answer.</summary>
    private bool Write(int index, long taken)
    {
        WritePointTable point = _table.Writes[index];
        ModbusResult result;
        bool goesAgain;
        try
        {
            result = _writer.Send(point, taken, out goesAgain);
        }
        catch
        {
            // Whatever broke, a de-energising write must not be lost with it.
            Slots[index].LinkLost(taken);
            throw;
        }

        if (result.Outcome is not (ModbusOutcome.Good or ModbusOutcome.DeviceException))
        {
            Slots[index].LinkLost(taken);
            return false;
        }

        if (goesAgain)
        {
            Slots[index].PutBack(taken);
        }
        else
        {
            Slots[index].Complete(taken, result.IsGood);
        }

        return NoteAnswer(point.UnitId, result);
    }
}
