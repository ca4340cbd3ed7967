using EdgeGuard.Core.Alarms;

namespace EdgeGuard.Core.Tests.Alarms;

/// <summary>
/// An alarm told from flags that know nothing of each other, as OPC 10000-9 keeps them, instead of one diagram: is it out of
/// service, on the shelf, suppressed, standing, acknowledged, latched. Shares no code with the first.
/// </summary>
internal sealed class NaiveAlarm(bool latching)
{
    private bool _stands;
    private bool _acknowledged = true;
    private bool _latched;
    private bool _suppressed;
    private bool _wasSuppressed;
    private bool _shelved;
    private bool _out;

    public AlarmState State => _out ? AlarmState.OutOfService
        : _shelved ? AlarmState.Shelved
        : _wasSuppressed ? AlarmState.SuppressedByDesign
        : _stands ? _acknowledged ? AlarmState.Acknowledged : AlarmState.Unacknowledged
        : _latched ? _acknowledged ? AlarmState.LatchedAcknowledged : AlarmState.LatchedUnacknowledged
        : _acknowledged ? AlarmState.Normal : AlarmState.ReturnedUnacknowledged;

    private bool Hidden => _out || _shelved || _wasSuppressed;

    public bool Heard { get; private set; }

    public void Scan(bool stands, bool suppressed, bool shelfOver)
    {
        Heard = false;
        bool opens = false;
        if (suppressed && !_suppressed)
        {
            _wasSuppressed = !_out && !_shelved;
        }
        else if (!suppressed && _suppressed && _wasSuppressed)
        {
            _wasSuppressed = false;
            opens = true;
        }

        _suppressed = suppressed;
        bool begins = stands && !_stands;
        _stands = stands;
        _latched |= latching && stands;
        if (shelfOver && _shelved)
        {
            _shelved = false;
            opens = true;
        }

        if (opens)
        {
            Show();
        }
        else if (begins && !Hidden)
        {
            _acknowledged = false;
            Heard = true;
        }
    }

    public void Acknowledge() => _acknowledged |= !Hidden;

    public void Reset()
    {
        if (!Hidden && !_stands && _latched && _acknowledged)
        {
            _latched = false;
        }
    }

    public bool Shelve()
    {
        bool may = !Hidden && (_stands || !_latched);
        _shelved |= may;
        return may;
    }

    public void Unshelve()
    {
        if (_shelved && !_out)
        {
            _shelved = false;
            Show();
        }
    }

    public void TakeOut()
    {
        _out = true;
        _shelved = false;
        _wasSuppressed = false;
    }

    public void PutBack()
    {
        if (_out)
        {
            _out = false;
            Show();
        }
    }

    // What comes out of hiding has been acknowledged by nobody.
    private void Show()
    {
        _wasSuppressed = _suppressed;
        _acknowledged = !_wasSuppressed && !_stands && !_latched;
        Heard |= !_wasSuppressed && _stands;
    }
}
