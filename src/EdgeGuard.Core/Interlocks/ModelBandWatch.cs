using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// SENS: element and outlet outside the band that power and flow allow in a steady state. Not judged where the site states
/// no model, without power, and while a value of the block is not good: it can add a finding, never take one away. It looks at the sensors themselves, never at a forced value.
/// </summary>
internal sealed class ModelBandWatch(ModelBandTable table)
{
    private readonly ModelBand _band = new(table);

    /// <summary>Scan since when the latest judged block lies outside; −1 when it does not.</summary>
    public long Since { get; private set; } = -1;

    /// <summary>One scan; true while the latest block lies outside.</summary>
    public bool IsOutside(UnitMemory unit)
    {
        if (!unit.MayDrawPower || unit.Raw.SkippedScans > 0)
        {
            _band.Drop();
        }
        else
        {
            _band.Add(new EnergyBalanceSample(
                unit.RealOrNaN(SignalRole.Power), unit.RealOrNaN(SignalRole.GasFlow), 0,
                unit.RealOrNaN(SignalRole.OutletTemperature), unit.RealOrNaN(SignalRole.ElementTemperature)));
        }

        Since = !_band.IsOutside ? -1 : Since < 0 ? unit.Scan : Since;
        return Since >= 0;
    }
}
