namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// Raises the coming and going of alarms. A removing function that goes on from its alarm to its demand keeps the
/// alarm; its trip is an event of its own. A bypassed function that demands is an alarm, since it trips nothing. COOL tells whether the fast cooling was led or forced by a trip.
/// </summary>
internal sealed class AlarmWatch
{
    private const long Led = 1;
    private const long ForcedByTrip = 2;

    private readonly bool[] _active = new bool[FunctionIds.Count];

    public void Tell(UnitMemory unit, FunctionStatus[] verdicts, EventSink sink)
    {
        for (int i = 1; i < FunctionIds.Count; i++)
        {
            bool active = Active((FunctionId)i, in verdicts[i], _active[i]);
            if (active != _active[i])
            {
                _active[i] = active;
                long detail = (FunctionId)i == FunctionId.Cool ? unit.Permit ? Led : ForcedByTrip : 0;
                sink.Raise(active ? EventId.AlarmActive : EventId.AlarmGone, (FunctionId)i, ref verdicts[i], detail);
            }
        }
    }

    private static bool Active(FunctionId id, in FunctionStatus verdict, bool before) => verdict.State switch
    {
        FunctionState.Alarm => true,
        FunctionState.Demand => before || verdict.Bypassed || verdict.Reaction != Reaction.Removal || id == FunctionId.Cmdv,
        FunctionState.Pending or FunctionState.NotGood => before,
        _ => false,
    };
}
