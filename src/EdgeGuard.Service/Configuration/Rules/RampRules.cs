using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>Ramps, slopes and proofs against each other.</summary>
internal static class RampRules
{
    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units)
        {
            CheckSlopes(unit, faults);
            double cycleMs = unit.Resd.Number("firingCycleMs");
            if (unit.Resd.Number("proofMs") < 2 * cycleMs)
            {
                faults.Add(unit.Resd.At("proofMs"), "residual power would be judged within a firing cycle", $"{unit.Resd.Number("proofMs")} ms", $"at least two firing cycles, {2 * cycleMs} ms", $"\"proofMs\": {4 * cycleMs}");
            }

            double rampKw = unit.Section.Number("rampPowerKw", unit.RatedPowerKw);
            if (rampKw > unit.RatedPowerKw)
            {
                faults.Add(unit.Section.At("rampPowerKw"), "the ramp would draw more than the rated power", $"{rampKw} kW", $"at most {unit.RatedPowerKw} kW", "to leave \"rampPowerKw\" out");
            }

            double runPercent = unit.Cool.Number("blowerRunPercent");
            if (unit.BlowerAfterPercent > runPercent)
            {
                faults.Add(unit.Cool.At("blowerAfterPercent"), "the blower would run faster while after-cooling than while heating", $"{unit.BlowerAfterPercent} %", $"at most {runPercent} %", "to leave \"blowerAfterPercent\" out");
            }
        }
    }

    private static void CheckSlopes(UnitDraft unit, FaultList faults)
    {
        double heatAlarm = unit.Cool.Number("heatAlarmKPerMin");
        double up = unit.Cool.Number("rampUpKPerMin");
        if (heatAlarm <= up)
        {
            faults.Add(unit.Cool.At("heatAlarmKPerMin"), "the heat-up alarm does not lie above the ramp", $"alarm {heatAlarm} K/min, ramp {up} K/min", $"more than {up} K/min", "a slower ramp, or twice the ramp as alarm");
        }

        // A led cool-down at the cap is a falling element under power and no fault of the sensor.
        if (unit.FallingKPerMin >= -unit.RampDownKPerMin)
        {
            faults.Add(unit.Nors.At("fallingKPerMin"), "a led cool-down would look like a displaced sensor", $"{unit.FallingKPerMin} K/min", $"less than {-unit.RampDownKPerMin} K/min (faster than \"rampDownKPerMin\")", $"\"fallingKPerMin\": {-2 * unit.RampDownKPerMin}");
        }
    }
}
