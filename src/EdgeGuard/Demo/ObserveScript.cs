using System.Globalization;
using EdgeGuard.Reports.Charts;
using EdgeGuard.VirtualPlant.Cabinets;

namespace EdgeGuard.Demo;

/// <summary>
/// The same fault with nobody intervening: the cabinets run their own programme (key on LOCAL), the guard only
/// observes, the blower of N-1 stops, and the element passes its limit while the outlet looks healthy.
/// </summary>
internal sealed class ObserveScript(DemoRig rig, DemoStory story)
{
    private const string Unit = "N-1";
    private static readonly double[] Marks = [850, 1000, 1100];

    /// <summary>Simulated length, a little more than the script takes.</summary>
    public static readonly TimeSpan Planned = TimeSpan.FromMinutes(18);

    public void Play()
    {
        Tell("", "The guard observes only; both keys stand on LOCAL, watchdogs bridged, and the cabinets run their own programmes.");
        rig.Run(TimeSpan.FromSeconds(3));
        rig.Plant("key N-1 local");
        rig.Plant("key A-1 local");
        rig.Await("the outlet of N-1 reaches 645 °C", TimeSpan.FromMinutes(25), r => r[Unit].OutletC >= 645);
        rig.Run(TimeSpan.FromMinutes(5));
        Tell("", "Both units are steady.", ChartTone.Hot);
        story.Mark(rig.Seconds, Unit, "the blower stops.", ChartTone.Fault);
        rig.Plant("fault blower-stop N-1");
        Watch(rig.Seconds);
    }

    private void Watch(double stopped)
    {
        int passed = 0;
        bool minute = false;
        while (rig.Seconds < stopped + 90)
        {
            rig.Round();
            CabinetTruth truth = rig.Truth().Units.First(u => u.Unit == Unit);
            double after = rig.Seconds - stopped;
            while (passed < Marks.Length && truth.ElementC >= Marks[passed])
            {
                Tell(Unit, string.Create(CultureInfo.InvariantCulture, $"the element passes {Marks[passed]:0} °C {after:0.0} s after the blower stopped; the outlet shows {truth.OutletIndicatedC:0} °C and looks healthy."), ChartTone.Fault);
                passed++;
            }

            if (!minute && after >= 60)
            {
                minute = true;
                Tell(Unit, string.Create(CultureInfo.InvariantCulture, $"60 s after the blower stopped the element is at {truth.ElementC:0} °C, the outlet shows {truth.OutletIndicatedC:0} °C."), ChartTone.Fault);
            }
        }
    }

    private void Tell(string unit, string text, ChartTone tone = ChartTone.Neutral) => story.Tell(rig.Seconds, unit, text, tone);
}
