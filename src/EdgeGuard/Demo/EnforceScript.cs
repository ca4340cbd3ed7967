using EdgeGuard.Reports.Charts;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Demo;

/// <summary>
/// The story with the guard in charge: tripped at start, reset, start, proving, led heat-up on a shared supply, steady,
/// the blower stops, trip, restart, a thermocouple is shorted, a phase is lost, the enable sticks, powered cool-down, after-cooling.
/// </summary>
internal sealed class EnforceScript(DemoRig rig, DemoStory story)
{
    private const string Big = "N-1";
    private const string Small = "A-1";

    // NORS with power on for longer than its delay already: some scans until the slope shows the fall, write, contactor.
    private const int NoResponseLimitMs = 1_000;

    // PHAS: half a second of firing cycle in the cabinet's meter, two blocks of two cycles (the fault falls into one), its
    // delay of 0.5 s, one scan, write and contactor.
    private const int PhaseLimitMs = 500 + 2_000 + 500 + 100 + 100;

    // A request of a person: a few scans until the guard has taken it, then write and contactor.
    private const int StopLimitMs = 1_000;
    private static readonly TimeSpan HeatLimit = TimeSpan.FromMinutes(50);

    // A script that hangs ends here; how fast each trip must come is the ledger's to judge.
    private static readonly TimeSpan TripLimit = TimeSpan.FromMinutes(2);

    /// <summary>Simulated length, a little more than the script takes, so that its end is now.</summary>
    public static readonly TimeSpan Planned = TimeSpan.FromMinutes(77);

    private readonly List<DemoFault> _faults = [];

    /// <summary>What the ledger is asked about beside the limits of each unit.</summary>
    public IReadOnlyList<DemoFault> Faults => _faults;

    public void Play()
    {
        StartUp();
        LoseBlower();
        Restart();
        ShortThermocouple();
        LosePhase();
        StickEnable();
        CoolDown();
    }

    private void StartUp()
    {
        Tell("", "Both units come up tripped: power-on counts as a trip. Nothing heats until a person resets and then starts.");
        rig.Run(TimeSpan.FromSeconds(3));
        Accept("reset", Big, "start of shift, hall inspected");
        Accept("reset", Small, "start of shift, hall inspected");
        Tell("", "Reset is not start: the blowers stand still.");
        rig.Run(TimeSpan.FromSeconds(2));
        Accept("start", Big, "calcining");
        Accept("start", Small, "drying");
        rig.Await($"{Big} heats", TimeSpan.FromMinutes(3), r => r[Big].State == "Heating");
        rig.Await($"{Small} waits for the supply", TimeSpan.FromMinutes(3), r => r[Small].RampHeld);
        rig.Await($"{Big} holds its setpoint", HeatLimit, r => r[Big].State == "Holding");
        rig.Await($"{Small} holds its setpoint", HeatLimit, r => r[Small].State == "Holding");
        rig.Run(TimeSpan.FromMinutes(4));
        Tell("", "Both units are steady.", ChartTone.Hot);
    }

    private void LoseBlower()
    {
        story.Mark(rig.Seconds, Big, "the blower stops (a fault on command; nobody told the guard).", ChartTone.Fault);
        rig.Plant($"fault blower-stop {Big}");
        rig.Await($"{Big} trips on FLOW", TimeSpan.FromSeconds(20), r => r[Big] is { State: "Tripped", FirstOut: "FLOW" });
        rig.Await($"{Big} power proved off", TimeSpan.FromSeconds(30), r => r[Big].PowerProvedOff);
        rig.Run(TimeSpan.FromSeconds(10));
        RequestAnswer refused = rig.Request("reset", Big, "trying without a cause removed");
        if (refused.Result != "refused")
        {
            throw new DemoException($"a reset without flow was not refused but {refused.Result}: {refused.Message}");
        }

        Tell(Big, $"a reset is tried while the cause is there: {refused.Message}");
    }

    private void Restart()
    {
        rig.Plant($"clear blower-stop {Big}");
        Tell(Big, "the blower is repaired and runs up to the after-cooling demand, which the guard kept.");
        rig.Await($"{Big} flow is back", TimeSpan.FromSeconds(60), r => r[Big].FlowKgPerHour > 70);
        rig.Run(TimeSpan.FromSeconds(5));
        BringBack(Big, "blower belt replaced", "calcining goes on");
    }

    // The sensor then shows the temperature of the hall and looks healthy: neither a limit nor a break detection sees it.
    private void ShortThermocouple() => Suffer(new DemoOutage
    {
        Unit = Small,
        Fault = "element-short",
        What = "element thermocouple shorted",
        Told = "the element thermocouple is shorted (a fault on command); it reads as cold as the hall and looks healthy.",
        Function = "NORS",
        LimitMs = NoResponseLimitMs,
        UntilRepairS = 20,
        RepairTold = "the thermocouple is replaced; the element reads its true temperature again.",
        UntilResetS = 25, // the jump back up must have left the window of the slope
        Repaired = "element thermocouple replaced",
        GoesOn = "drying goes on",
    });

    // Half of the power is left and the controller asks for more: temperatures alone would tell it late.
    private void LosePhase() => Suffer(new DemoOutage
    {
        Unit = Big,
        Fault = "supply-phase-lost",
        What = "supply phase lost",
        Told = "a fuse blows and phase L3 is lost (a fault on command); half of the power is left.",
        Function = "PHAS",
        LimitMs = PhaseLimitMs,
        UntilRepairS = 10,
        RepairTold = "the fuse is replaced after its cause was looked for.",
        UntilResetS = 5,
        Repaired = "fuse of L3 replaced",
        GoesOn = "calcining goes on",
    });

    // Fault, trip, power proved off, repair, and back to where it was.
    private void Suffer(DemoOutage outage)
    {
        string unit = outage.Unit;
        Judge(unit, outage.What, outage.LimitMs);
        story.Mark(rig.Seconds, unit, outage.Told, ChartTone.Fault);
        rig.Plant($"fault {outage.Fault} {unit}");
        rig.Await($"{unit} trips on {outage.Function}", TripLimit, r => r[unit].State == "Tripped" && r[unit].FirstOut == outage.Function);
        rig.Await($"{unit} power proved off", TimeSpan.FromSeconds(30), r => r[unit].PowerProvedOff);
        rig.Run(TimeSpan.FromSeconds(outage.UntilRepairS));
        rig.Plant($"clear {outage.Fault} {unit}");
        Tell(unit, outage.RepairTold);
        rig.Run(TimeSpan.FromSeconds(outage.UntilResetS));
        BringBack(unit, outage.Repaired, outage.GoesOn);
    }

    // A stuck enable stays unseen while heating; what shows it is the first removal, which the relay must do alone.
    private void StickEnable()
    {
        story.Mark(rig.Seconds, Big, "the enable input sticks at 1 (a fault on command); while heating nothing shows it.", ChartTone.Fault);
        rig.Plant($"fault enable-stuck {Big}");
        rig.Run(TimeSpan.FromSeconds(10));
        Judge(Big, "stop with a stuck enable", StopLimitMs);
        Accept("stop", Big, "samples to be drawn");
        rig.Await($"{Big} power proved off although the enable sticks", TimeSpan.FromSeconds(30), r => r[Big] is { PowerProvedOff: true, Enable: true, Relay: false });
        rig.Run(TimeSpan.FromSeconds(5));
        if (!story.Heard("ReadBackDiffers", Big))
        {
            throw new DemoException("the guard did not tell that the enable sticks");
        }

        rig.Plant($"clear enable-stuck {Big}");
        Tell(Big, "the enable input is repaired.");
        rig.Await($"{Big} enable reads 0", TimeSpan.FromSeconds(10), r => r[Big].Enable == false);
        Accept("start", Big, "calcining goes on");
        rig.Await($"{Big} holds once more", HeatLimit, r => r[Big].State == "Holding");
        Tell(Big, "holding again.", ChartTone.Hot);
        rig.Run(TimeSpan.FromMinutes(2));
    }

    private void BringBack(string unit, string repaired, string goesOn)
    {
        Accept("acknowledge", unit, repaired);
        Accept("reset", unit, repaired);
        Accept("start", unit, goesOn);
        rig.Await($"{unit} holds again", HeatLimit, r => r[unit].State == "Holding");
        Tell(unit, "holding again.", ChartTone.Hot);
        rig.Run(TimeSpan.FromMinutes(2));
    }

    private void Judge(string unit, string what, int limitMs) => _faults.Add(new DemoFault(unit, what, rig.Truth().AtMs, limitMs));

    private void CoolDown()
    {
        Accept("cool", Big, "end of shift");
        Accept("cool", Small, "end of shift");
        Tell("", "Powered cool-down: power stays on and falls with the led setpoint, at most 30 K/min.", ChartTone.Cool);
        rig.Await($"{Big} after-cools", TimeSpan.FromMinutes(45), r => r[Big].State is "AfterCooling" or "Standby");
        Tell(Big, "power is removed; the blower runs until the element is below its after-cooling limit.", ChartTone.Cool);
        rig.Await("both units stand by", TimeSpan.FromMinutes(60), r => r[Big].State == "Standby" && r[Small].State == "Standby");
        Tell("", "Both units are cool and stand by.");
        rig.Run(TimeSpan.FromSeconds(5));
    }

    private void Accept(string kind, string unit, string reason)
    {
        RequestAnswer answer = rig.Request(kind, unit, reason);
        if (answer.Result != "accepted")
        {
            throw new DemoException($"{kind} of {unit} was {answer.Result}: {answer.Message}");
        }

        Tell(unit, $"{kind}, asked for by a person (\"{reason}\"): {answer.Message}");
    }

    private void Tell(string unit, string text, ChartTone tone = ChartTone.Neutral) => story.Tell(rig.Seconds, unit, text, tone);
}
