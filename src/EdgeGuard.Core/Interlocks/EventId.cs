namespace EdgeGuard.Core.Interlocks;

/// <summary>Identity of an event decided by the core. Numbers are never reused: they stand in journals.</summary>
public enum EventId : short
{
    /// <summary>No event.</summary>
    None = 0,

    /// <summary>A function tripped the unit; value and limit are the function's, detail = scan since when its condition stood.</summary>
    Trip = 100,

    /// <summary>A further function demanded a trip while the unit was tripped already.</summary>
    Consequence = 101,

    /// <summary>The cause of a latched trip is gone; the latch stays.</summary>
    CauseGone = 102,

    /// <summary>The unit was reset.</summary>
    Reset = 103,

    /// <summary>A controlled shutdown began; the function names the cause.</summary>
    ControlledShutdown = 104,

    /// <summary>An alarm became active; value and limit are the function's. For COOL detail = 1 "led" (permit given), 2 "forced by trip".</summary>
    AlarmActive = 110,

    /// <summary>An alarm went away.</summary>
    AlarmGone = 111,

    /// <summary>Alarms and trip were acknowledged.</summary>
    Acknowledged = 112,

    /// <summary>Resets came more often than the site allows within an hour; value = resets, limit = allowed; the function is that of the latest trip.</summary>
    RepeatedResets = 113,

    /// <summary>Resets no longer come too often.</summary>
    RepeatedResetsGone = 114,

    /// <summary>The unit changed state; value = old state, limit = new state (numbers of <see cref="UnitState"/>).</summary>
    StateChanged = 120,

    /// <summary>Start was accepted: pre-flow begins.</summary>
    StartAccepted = 121,

    /// <summary>Flow was proved; value = flow, limit = proving limit.</summary>
    FlowProved = 122,

    /// <summary>The signal was seen below the flow limit with the blower stopped.</summary>
    FlowZeroSeen = 123,

    /// <summary>Permit decided; it takes effect when this event is durable. Value = setpoint start, limit = target.</summary>
    PermitGranted = 124,

    /// <summary>Permit withdrawn; the function names the cause.</summary>
    PermitWithdrawn = 125,

    /// <summary>The envelope of a ramp: value = start, limit = target, detail = rate in mK/min.</summary>
    RampEnvelope = 126,

    /// <summary>Power was proved off; value = measured power.</summary>
    PowerProvedOff = 127,

    /// <summary>Power was removed but is still measured; value = power, limit = limit.</summary>
    PowerNotRemoved = 128,

    /// <summary>A ramp is held for the shared supply; value = sum, limit = site limit.</summary>
    RampHeld = 129,

    /// <summary>A held ramp goes on.</summary>
    RampReleased = 130,

    /// <summary>A request was accepted; detail = request id.</summary>
    RequestAccepted = 140,

    /// <summary>A request was refused; detail = request id, reason and function say why.</summary>
    RequestRefused = 141,

    /// <summary>First scan of a run: outputs found at the cabinet; value = output %, limit = power kW, detail = bits: 0 relay, 1 enable, 2 permit token not zero, 3 manual, 4 contactor closed, 5 key supervised, 6 hardwired chain closed, 7 blower demanded.</summary>
    FoundOutputs = 150,

    /// <summary>A read-back differs from what was written; detail = command role.</summary>
    ReadBackDiffers = 151,

    /// <summary>The key of the cabinet changed; value = 1 supervised, 0 local.</summary>
    KeyChanged = 152,

    /// <summary>The cabinet says that its watchdog has dropped although the permit is renewed; value = 0, limit = 1.</summary>
    WatchdogDropped = 153,

    /// <summary>Counts a demand while the unit only observes: what enforcing would have done.</summary>
    WouldTrip = 160,

    /// <summary>A bypass was accepted; it takes effect when this event is durable. Value = minutes, limit = longest time allowed, detail = request id.</summary>
    BypassBegun = 170,

    /// <summary>A bypass was ended by request; detail = demands while it lasted.</summary>
    BypassEnded = 171,

    /// <summary>A bypass expired and its function is in force again; detail = demands while it lasted.</summary>
    BypassExpired = 172,

    /// <summary>A bypassed function demanded; value and limit are the function's, detail = scan since when its condition stood.</summary>
    BypassedDemand = 173,

    /// <summary>A person said what the latest trip was; function = its first-out, value = number of the trip as counted, limit = spurious trips of the function, detail = 1 genuine, 2 spurious.</summary>
    TripClassified = 174,

    /// <summary>An alarm was shelved by request; function = the alarm (none: that of the trip), value = minutes, limit = longest time allowed, detail = request id.</summary>
    AlarmShelved = 183,

    /// <summary>An alarm was taken from the shelf by request; detail = request id.</summary>
    AlarmUnshelved = 184,

    /// <summary>The time of an alarm on the shelf is over.</summary>
    AlarmShelvingExpired = 185,

    /// <summary>An alarm was taken out of service by request; detail = request id.</summary>
    AlarmRemovedFromService = 186,

    /// <summary>An alarm was returned to service by request; detail = request id.</summary>
    AlarmReturnedToService = 187,

    /// <summary>The condition of an alarm stands and the design suppresses it; detail = why (number of AlarmSuppression).</summary>
    AlarmSuppressed = 188,

    /// <summary>An alarm is no longer suppressed, or its condition has gone.</summary>
    AlarmSuppressionEnded = 189,

    /// <summary>A force was accepted; it takes effect when this event is durable. Value = forced value, limit = real value (NaN when not good), detail = role + 256 × minutes.</summary>
    ForceBegun = 190,

    /// <summary>A force was ended by request; value = forced value, limit = real value, detail = role + 256 × demands of the real value while it lasted.</summary>
    ForceEnded = 191,

    /// <summary>A force expired and the real value is judged again; figures as <see cref="ForceEnded"/>.</summary>
    ForceExpired = 192,

    /// <summary>A force ended because the unit tripped; figures as <see cref="ForceEnded"/>.</summary>
    ForceEndedByTrip = 193,

    /// <summary>The real value demanded and a forced one kept that from taking effect; value and limit are those of the real judgement, detail = scan since when the condition stood.</summary>
    ForcedDemand = 194,

    /// <summary>A person let a function learn anew; detail = request id.</summary>
    LearningBegun = 180,

    /// <summary>A function has learnt what it needs to judge. BALA: value = loss, kW/K. SENS: value = scatter of a reading, detail = signal role.</summary>
    Learnt = 181,

    /// <summary>SENS: the resolution of a sensor is too coarse for its noise to be judged; detail = signal role.</summary>
    NotLearnable = 182,
}
