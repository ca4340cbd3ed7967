using System.Globalization;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Commands;

/// <summary>Power, flow and outlet of a gas: two of them give the third.</summary>
internal static class CalcGas
{
    /// <summary>Lines for a reader; none when the data give no figure. A value that is not given is NaN.</summary>
    public static IReadOnlyList<string> Lines(Gas gas, double inletC, double outletC, double kgPerHour, double powerKw)
    {
        (double outlet, double flow, double power) = (double.IsNaN(outletC), double.IsNaN(kgPerHour), double.IsNaN(powerKw)) switch
        {
            (false, false, true) => (outletC, kgPerHour, GasEnthalpy.PowerToHeatKw(gas, kgPerHour, inletC, outletC)),
            (false, true, false) => (outletC, GasEnthalpy.MinimumFlowKgPerHour(gas, powerKw, inletC, outletC), powerKw),
            (true, false, false) => (GasEnthalpy.AdiabaticOutletC(gas, kgPerHour, powerKw, inletC), kgPerHour, powerKw),
            _ => (double.NaN, double.NaN, double.NaN),
        };
        if (!(power >= 0) || !(flow > 0) || !double.IsFinite(outlet + flow + power) || !GasEnthalpy.IsInRange(outlet) || !GasEnthalpy.IsInRange(inletC))
        {
            return [];
        }

        return
        [
            T($"{flow:0.0} kg/h from {inletC:0.#} to {outlet:0.0} °C take {power:0.00} kW ({power / flow:0.0000} kW per kg/h), no losses"),
            T($"the same flow: {Volume(gas, flow, ReferenceState.Normal):0.0} Nm³/h (0 °C), {Volume(gas, flow, ReferenceState.Iso13443):0.0} Sm³/h (15 °C), {Volume(gas, flow, ReferenceState.TwentyC):0.0} m³/h at 20 °C, all at 101.325 kPa"),
        ];
    }

    private static double Volume(Gas gas, double kgPerHour, ReferenceState state) => GasFlow.M3PerHourFromMass(gas, kgPerHour, state);

    private static string T(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
