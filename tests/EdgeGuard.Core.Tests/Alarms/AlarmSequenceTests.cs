using EdgeGuard.Core.Alarms;

namespace EdgeGuard.Core.Tests.Alarms;

/// <summary>
/// Every sequence of scans and requests up to a length, against an alarm kept as independent flags: shelf, service,
/// suppression, condition and acknowledgement in every combination and order in which they can meet.
/// </summary>
public sealed class AlarmSequenceTests
{
    private const int Depth = 5;
    private const int Acts = 10;
    private const int ShelfScans = 1;

    [Trait("requirement", "ALRM-1")]
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Every_sequence_of_five_inputs_leads_where_independent_flags_lead(bool latching)
    {
        var table = new AlarmTable { IsTrip = false, IsLatching = latching, Priority = AlarmPriority.Low, ShelveMostScans = 100 };
        long sequences = 1;
        var met = new HashSet<(AlarmState, int)>();
        for (int i = 0; i < Depth; i++)
        {
            sequences *= Acts;
        }

        for (long code = 0; code < sequences; code++)
        {
            Live(table, code, met);
        }

        // All states of the diagram, each met by every input; E and F only where the alarm latches.
        int states = Enum.GetValues<AlarmState>().Length - (latching ? 0 : 2);
        Assert.Equal(states * Acts, met.Count - (latching ? met.Count(m => m.Item1 == AlarmState.ReturnedUnacknowledged) : 0) + (latching ? Acts : 0));
    }

    private static void Live(AlarmTable table, long code, HashSet<(AlarmState, int)> met)
    {
        var alarm = new AlarmPoint(table, 1_000);
        var naive = new NaiveAlarm(table.IsLatching);
        bool stands = false, suppressed = false;
        long shelfEnd = long.MaxValue;
        for (int step = 0; step < Depth; step++, code /= Acts)
        {
            int act = (int)(code % Acts);
            met.Add((alarm.State, act));
            bool heard = Request(alarm, naive, act, step, ref shelfEnd);
            (stands, suppressed) = act switch { 0 => (true, suppressed), 1 => (false, suppressed), 2 => (stands, true), 3 => (stands, false), _ => (stands, suppressed) };
            if (act > 3 && !heard)
            {
                continue;
            }

            alarm.Step(step, stands, suppressed);
            naive.Scan(stands, suppressed, step > shelfEnd);
            if (alarm.State != naive.State || alarm.JustAnnunciated != naive.Heard)
            {
                Assert.Fail($"latching {table.IsLatching}, rest of the code {code}, step {step}: {alarm.State} heard {alarm.JustAnnunciated}, by flags {naive.State} {naive.Heard}");
            }
        }
    }

    /// <summary>True when the state after the request is to be compared with a further scan of the same condition.</summary>
    private static bool Request(AlarmPoint alarm, NaiveAlarm naive, int act, int step, ref long shelfEnd)
    {
        switch (act)
        {
            case 4:
                alarm.Acknowledge(step);
                naive.Acknowledge();
                break;
            case 5:
                alarm.Reset(step);
                naive.Reset();
                break;
            case 6:
                bool done = alarm.Shelve(step, ShelfScans) == AlarmAnswer.Done;
                if (naive.Shelve() != done)
                {
                    Assert.Fail($"shelved {done}, by flags otherwise");
                }

                shelfEnd = done ? step + ShelfScans : shelfEnd;
                break;
            case 7:
                alarm.Unshelve(step);
                naive.Unshelve();
                break;
            case 8:
                alarm.RemoveFromService(step);
                naive.TakeOut();
                break;
            case 9:
                alarm.ReturnToService(step);
                naive.PutBack();
                break;
            default:
                return true;
        }

        if (alarm.State != naive.State)
        {
            Assert.Fail($"request {act}: {alarm.State}, by flags {naive.State}");
        }

        return false;
    }
}
