using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Records.Journal;

/// <summary>
/// What each protective function is called, in which unit its figures are, where to look first and what a reset needs.
/// Written for the person in front of the cabinet; the same words stand in the handbook.
/// </summary>
public static class FunctionTexts
{
    private static readonly FunctionText[] Table = Build();

    /// <summary>The texts of a function; an unknown number gets a row that says so.</summary>
    /// <param name="function">The function.</param>
    public static FunctionText Of(FunctionId function) => (int)function < Table.Length ? Table[(int)function] : new FunctionText("?", "unknown function", string.Empty, "the version of the program", "an acknowledged cause");

    /// <summary>The texts of a function for what it found; where it judges several conditions each has its own words.</summary>
    /// <param name="function">The function.</param>
    /// <param name="finding">What it found.</param>
    public static FunctionText Of(FunctionId function, Finding finding)
    {
        FunctionText text = Of(function);
        return finding switch
        {
            Finding.TokenUnconfirmed => text with { Title = "no permit token confirmed within the watchdog time", LookAt = "the link for writing, the controller's write protection, gateway" },
            Finding.Standstill => text with { Title = "the guard stood still for about the watchdog time, so the cabinet may have removed power", LookAt = "load, suspend and disk of the machine the guard runs on", ResetNeeds = "scans on time again" },
            Finding.KeyLocal => text with { Title = "key on LOCAL", LookAt = "the key switch of the cabinet", ResetNeeds = "the key on SUPERVISED" },
            Finding.NotReadable when function == FunctionId.Hard => text with { Title = "hardwired safety chain cannot be read", LookAt = "the link and the register map; the chain itself may be closed", ResetNeeds = "the hardwired chain read as closed" },
            Finding.NotReadable when function == FunctionId.Flow => text with { Title = "gas flow cannot be read, which counts as no flow", LookAt = "the meter, its cable and link, the register map", ResetNeeds = "a good reading over the limit as long as the heater is hot or its power not proved off; a cold heater needs none, its start proves the flow" },
            Finding.NotReadable => text with { Title = "key or watchdog of the cabinet cannot be read", LookAt = "the register map and the link", ResetNeeds = "both read again" },
            Finding.WatchdogTime => text with { Title = "watchdog time of the cabinet is not the configured one", LookAt = "watchdog time in the cabinet and watchdogMs in the site file", ResetNeeds = "both the same" },
            Finding.SecondWriter => text with { Title = "permit token read back that was not written here", LookAt = "a second guard or another client that writes to this cabinet, or writes without effect", ResetNeeds = "one writer alone" },
            Finding.Manual => text with { Title = "controller put into manual while it heated", LookAt = "who works at the controller", ResetNeeds = "nothing more; pre-flow puts the controller back into automatic" },
            Finding.WatchdogDropped => text with { Title = "watchdog of the cabinet dropped while the permit was renewed", LookAt = "the watchdog relay, its time, the token register", ResetNeeds = "nothing more; a start shows whether the watchdog comes alive" },
            Finding.StartPosition => text with { Title = "start position not reached", LookAt = "output, mode and setpoint at the controller", ResetNeeds = "output 0 %, automatic, remote" },
            Finding.DeviceSettings => text with { Title = "settings of a device differ from what was commissioned", LookAt = "the settings named in the journal (settings-differ)", ResetNeeds = "the settings as commissioned" },
            Finding.RedundantSensorLost => text with { Title = "one of several sensors lost", ResetNeeds = "all sensors of the role good" },
            Finding.SensorsDiffer => text with { Title = "sensors of one role differ", LookAt = "both sensors named, their place and calibration", ResetNeeds = "sensors that agree" },
            Finding.Frozen => text with { Title = "sensor frozen: it reads the same although power or blower changed", ResetNeeds = "a reading that moves" },
            Finding.BelowNoise => text with { Title = "sensor frozen: it scatters far less than at commissioning", LookAt = "the sensor named, its transmitter, a filter or hold at the input card", ResetNeeds = "a reading that moves" },
            Finding.ForbiddenSlope => text with { Title = "temperature jumps faster than physics allows", LookAt = "terminals and cable of the sensor named", ResetNeeds = "a minute without a jump" },
            Finding.ModelBand => text with { Title = "element and outlet do not fit each other at this power and flow", LookAt = "place and fastening of both thermocouples, then meter and power measurement", ResetNeeds = "a steady state in which both fit again" },
            Finding.PowerUnread => text with { Title = "power reads nothing although the heater is heated, so power off cannot be proved", LookAt = "register, type, word order and scale of power in the map (edgeguard probe), then the power meter and its current transformers", ResetNeeds = "a power that reads" },
            Finding.OpenLeg => text with { Title = "a line without current or an open leg", LookAt = "fuses, supply lines, element legs, thyristors" },
            Finding.LeakageRises => text with { Title = "earth leakage rises slowly towards its alarm limit", LookAt = "moisture, ageing insulation; plan a check" },
            Finding.InsulationFalls => text with { Title = "insulation falls slowly towards its alarm limit", Unit = "kΩ", LookAt = "moisture, ageing insulation; plan a check" },
            Finding.Insulation => text with { Title = "insulation under its limit", Unit = "kΩ" },
            Finding.Forced => text with { Title = "a signal is forced by a person, so it is not what the sensor reads", LookAt = "edgeguard status, who forced it, why and until when", ResetNeeds = "no forced value" },
            Finding.TakenAway => text with { Title = "trip relay or enable taken away at the cabinet", LookAt = "who works at the cabinet", ResetNeeds = "nothing more; the start energises it again" },
            _ => text,
        };
    }

    private static FunctionText[] Build()
    {
        var table = new FunctionText[FunctionIds.Count];
        void Set(FunctionId id, string title, string unit, string lookAt, string resetNeeds) =>
            table[(int)id] = new FunctionText(id == FunctionId.None ? string.Empty : id.ToString().ToUpperInvariant(), title, unit, lookAt, resetNeeds);
        Set(FunctionId.None, "no function", string.Empty, string.Empty, string.Empty);
        Set(FunctionId.Start, "start of the guard", string.Empty, "nothing: every unit starts tripped", "a look at the plant");
        Set(FunctionId.Hard, "hardwired safety chain open", string.Empty, "limiter, flow switch, emergency stop and thyristor fault of the cabinet", "the hardwired chain closed again");
        Set(FunctionId.Flow, "gas flow under its limit", "kg/h", "blower, filter, dampers, then the meter and its impulse lines", "the flow back over its limit as long as the heater is hot or its power not proved off; a cold heater needs none, its start proves the flow");
        Set(FunctionId.Elem, "element temperature over its limit", "°C", "gas flow, controller output and setpoint, element thermocouple", "the element below the limit less the hysteresis");
        Set(FunctionId.Outl, "outlet gas temperature over its limit", "°C", "gas flow, setpoint, outlet thermocouple", "the outlet gas below the limit less the hysteresis");
        Set(FunctionId.Nors, "no response of the element to power", "K/min", "element thermocouple (shorted, reversed, pulled out), open element or fuse", "the thermocouple or element put right");
        Set(FunctionId.Resd, "power measured after removal", "kW", "thyristor shorted, contactor welded: lock out at the main switch", "the power proved off");
        Set(FunctionId.Comm, "no valid answer from the device", "ms", "cable, device power, address, gateway", "valid answers from every device of the unit");
        Set(FunctionId.Sens, "signal bad, stale or out of range", string.Empty, "the sensor named, its cable, the input card", "all signals of the unit good");
        Set(FunctionId.Cmdv, "the cabinet is not as commanded", string.Empty, "key switch, manual mode, a second writer of the permit token, the watchdog of the cabinet, settings changed at the controller", "read-back agreeing with what was written, key on SUPERVISED");
        Set(FunctionId.Cool, "cool-down faster than its cap", "K/min", "setpoint, dampers, gas flow", "nothing: it gives an alarm only");
        Set(FunctionId.Heat, "heat-up faster than its limit", "K/min", "setpoint ramp, gas flow", "nothing: it gives an alarm only");
        Set(FunctionId.Aftc, "after-cooling", "°C", "blower and dampers: the element is still hot", "nothing: it holds the blower");
        Set(FunctionId.Dmnd, "shared supply over its limit", "kW", "other heaters on the supply", "nothing: it holds ramps");
        Set(FunctionId.Jrnl, "journal cannot be written", "ms", "disk full, disk worn, rights of the data folder", "a healthy journal");
        Set(FunctionId.Stop, "asked to stop", string.Empty, "nothing: a person asked for it", "a new start");
        Set(FunctionId.Self, "the guard's own check failed", string.Empty, "send journal and recording to the maintainers", "a restart of the guard and a report");
        Set(FunctionId.Phas, "phase lost or unbalanced", "%", "fuses, supply lines, element legs, current transformers", "the legs put right; it is judged again only with power");
        Set(FunctionId.Leak, "earth leakage over its limit", "mA", "moist or damaged insulation, the monitor", "leakage and insulation within their limits");
        Set(FunctionId.Bala, "energy balance disagrees", "kW", "flow meter, thermocouples, power meter, lost gas", "nothing: it is judged again only with power");
        return table;
    }
}
