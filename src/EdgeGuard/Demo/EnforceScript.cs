using EdgeGuard.Reports.Charts;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Demo;

/// <summary>
/// The story with the guard in charge: tripped at start, reset, start, proving, led heat-up on a shared supply, steady,
/// the blower stops, trip, restart, powered cool-down, after-cooling.
/// </summary>
internal sealed class EnforceScript(DemoRig rig, DemoStory story)
{
    private const string Big = "N-1";
    private const string Small = "A-1";
    private static readonly TimeSpan HeatLimit = TimeSpan.FromMinutes(50);

    /// <summary>Simulated length, a little more than the script takes, so that its end is now.</summary>
    public static readonly TimeSpan Planned = TimeSpan.FromMinutes(59);

    public void Play()
    {
        StartUp();
        LoseBlower();
        Restart();
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
        Accept("acknowledge", Big, "blower belt replaced");
        Accept("reset", Big, "blower belt replaced");
        Accept("start", Big, "calcining goes on");
        rig.Await($"{Big} holds again", HeatLimit, r => r[Big].State == "Holding");
        Tell(Big, "holding again.", ChartTone.Hot);
        rig.Run(TimeSpan.FromMinutes(2));
    }

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
