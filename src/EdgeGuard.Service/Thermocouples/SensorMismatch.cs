namespace EdgeGuard.Service.Thermocouples;

/// <summary>
/// What an input reads that is set to another type than the thermocouple at it. The dangerous mistakes read low: type N
/// on an input set to K is some 130 K low at 1100 °C, so a limit is passed unseen.
/// </summary>
public static class SensorMismatch
{
    /// <summary>Reading, °C; NaN where it lies outside the functions.</summary>
    /// <param name="fitted">Type of the thermocouple.</param>
    /// <param name="set">Type set at the input.</param>
    /// <param name="celsius">Temperature of the measuring junction, °C.</param>
    /// <param name="terminalC">Temperature of the terminals, which the input compensates after its own type, °C.</param>
    public static double ReadingC(ThermocoupleType fitted, ThermocoupleType set, double celsius, double terminalC)
    {
        double atTerminals = ThermocoupleReference.Millivolt(fitted, celsius) - ThermocoupleReference.Millivolt(fitted, terminalC);
        return ThermocoupleReference.Celsius(set, atTerminals + ThermocoupleReference.Millivolt(set, terminalC));
    }
}
