namespace EdgeGuard.Core.Alarms;

/// <summary>
/// The state diagram of ANSI/ISA-18.2 and IEC 62682 as a function. Pure: time and permissions are the business of
/// <see cref="AlarmPoint"/>. An input that means nothing in a state leaves it.
/// </summary>
/// <remarks>
/// The diagram is from memory. Two choices go beyond it: a latched alarm is reset only after it was acknowledged (so OPC
/// 10000-9 answers Reset with Bad_InvalidState before), and a latched alarm that was hidden comes back as latched (E)
/// instead of normal, so that shelf, suppression and service never lose a latch.
/// </remarks>
public static class AlarmDiagram
{
    /// <summary>State after an input.</summary>
    /// <param name="state">State before it.</param>
    /// <param name="input">The input.</param>
    /// <param name="facts">Facts, the input's own effect included: after ConditionBegins the condition stands.</param>
    public static AlarmState Next(AlarmState state, AlarmInput input, AlarmFacts facts) => input switch
    {
        AlarmInput.ConditionBegins => OnConditionBegins(state),
        AlarmInput.ConditionEnds => OnConditionEnds(state, facts.IsLatching),
        AlarmInput.Acknowledge => OnAcknowledge(state),
        AlarmInput.Reset => state == AlarmState.LatchedAcknowledged ? AlarmState.Normal : state,
        AlarmInput.Shelve => MayShelve(state) ? AlarmState.Shelved : state,
        AlarmInput.Unshelve or AlarmInput.ShelvingExpires => state == AlarmState.Shelved ? Emerge(facts) : state,
        AlarmInput.SuppressionBegins => IsOpen(state) ? AlarmState.SuppressedByDesign : state,
        AlarmInput.SuppressionEnds => state == AlarmState.SuppressedByDesign ? Emerge(facts) : state,
        AlarmInput.RemoveFromService => AlarmState.OutOfService,
        AlarmInput.ReturnToService => state == AlarmState.OutOfService ? Emerge(facts) : state,
        _ => state,
    };

    /// <summary>True in the states A to F: neither shelved nor suppressed nor out of service.</summary>
    /// <param name="state">The state.</param>
    public static bool IsOpen(AlarmState state) => state <= AlarmState.LatchedAcknowledged;

    private static AlarmState OnConditionBegins(AlarmState state) => state switch
    {
        AlarmState.Normal or AlarmState.ReturnedUnacknowledged => AlarmState.Unacknowledged,
        AlarmState.LatchedUnacknowledged or AlarmState.LatchedAcknowledged => AlarmState.Unacknowledged,
        _ => state,
    };

    private static AlarmState OnConditionEnds(AlarmState state, bool latching) => state switch
    {
        AlarmState.Unacknowledged => latching ? AlarmState.LatchedUnacknowledged : AlarmState.ReturnedUnacknowledged,
        AlarmState.Acknowledged => latching ? AlarmState.LatchedAcknowledged : AlarmState.Normal,
        _ => state,
    };

    private static AlarmState OnAcknowledge(AlarmState state) => state switch
    {
        AlarmState.Unacknowledged => AlarmState.Acknowledged,
        AlarmState.ReturnedUnacknowledged => AlarmState.Normal,
        AlarmState.LatchedUnacknowledged => AlarmState.LatchedAcknowledged,
        _ => state,
    };

    private static bool MayShelve(AlarmState state) =>
        state is AlarmState.Normal or AlarmState.Unacknowledged or AlarmState.Acknowledged or AlarmState.ReturnedUnacknowledged;

    private static AlarmState Emerge(AlarmFacts facts)
    {
        if (facts.Suppressed)
        {
            return AlarmState.SuppressedByDesign;
        }

        if (facts.ConditionActive)
        {
            return AlarmState.Unacknowledged;
        }

        return facts.LatchHeld ? AlarmState.LatchedUnacknowledged : AlarmState.Normal;
    }
}
