using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>
/// The cabinet's own heating programme, active with the key on LOCAL: blower at run demand, half a minute of flow,
/// then a ramp from the temperature found to the setpoint. It looks at no flow: that is the interlock's job.
/// </summary>
public sealed class LocalProgramme(PlantProfile profile)
{
    private const int PreFlowMs = 30_000;

    private long _elapsedMs;

    /// <summary>Working setpoint, °C.</summary>
    public double SetpointC { get; private set; }

    /// <summary>True once the programme heats.</summary>
    public bool Heating => _elapsedMs >= PreFlowMs;

    /// <summary>Starts from the temperature found; a hot heater goes on without the initial flow time.</summary>
    public void Start(double outletC, bool alreadyHot)
    {
        SetpointC = Math.Clamp(outletC, profile.AmbientC, profile.SetpointC);
        _elapsedMs = alreadyHot ? PreFlowMs : 0;
    }

    /// <summary>Advances the programme by one step.</summary>
    public void Step(int stepMs)
    {
        _elapsedMs += stepMs;
        if (Heating)
        {
            SetpointC = Math.Min(profile.SetpointC, SetpointC + (profile.LocalRampKPerMin / 60_000.0 * stepMs));
        }
    }
}
