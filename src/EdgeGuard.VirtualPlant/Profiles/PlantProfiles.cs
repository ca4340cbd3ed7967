using System.Diagnostics.CodeAnalysis;

namespace EdgeGuard.VirtualPlant.Profiles;

/// <summary>
/// The built-in plants: N-1 calcines catalyst pellets in a nitrogen loop, A-1 dries them in air, T-40 serves tests
/// only. All figures are invented for the demonstration.
/// </summary>
public static class PlantProfiles
{
    /// <summary>Power the hall may draw for all heaters together, kW.</summary>
    public const double SiteLimitKw = 45.0;

    /// <summary>Nitrogen loop heater, 36 kW, 650 °C.</summary>
    public static PlantProfile N1 { get; } = new()
    {
        Name = "N-1",
        Gas = GasKind.Nitrogen,
        InletC = 40,
        SetpointC = 650,
        RatedKw = 36,
        FiringCycleMs = 500,
        HotFlowKgPerHour = 140,
        HotToColdFlow = 0.80,
        WireKg = 3.8,
        WireKjPerKgK = 0.68,
        WireM2 = 0.72,
        LiningKjPerK = 12,
        CouplingWPerK = 10,
        LossWPerK = 1.3,
        ReferenceFlowKgPerHour = 140,
        WatchdogMs = 2000,
        GainPercentPerK = 2.5,
        IntegralS = 13,
        LocalRampKPerMin = 60,
        SetpointMaxC = 700,
        Limits = new() { ElementDestructionC = 1100, ElementTripC = 850, MinimumFlowKgPerHour = 70 },
    };

    /// <summary>Air dryer heater, 15 kW, 220 °C.</summary>
    public static PlantProfile A1 { get; } = new()
    {
        Name = "A-1",
        Gas = GasKind.Air,
        InletC = 20,
        SetpointC = 220,
        RatedKw = 15,
        FiringCycleMs = 20,
        HotFlowKgPerHour = 150,
        HotToColdFlow = 0.95,
        WireKg = 1.5,
        WireKjPerKgK = 0.55,
        WireM2 = 0.3,
        LiningKjPerK = 5,
        CouplingWPerK = 6,
        LossWPerK = 0.6,
        ReferenceFlowKgPerHour = 150,
        WatchdogMs = 2000,
        GainPercentPerK = 1.5,
        IntegralS = 20,
        LocalRampKPerMin = 30,
        SetpointMaxC = 250,
        Limits = new() { ElementDestructionC = 900, ElementTripC = 450, MinimumFlowKgPerHour = 60 },
    };

    /// <summary>Air heater for tests, 40 kW, 1100 °C.</summary>
    public static PlantProfile T40 { get; } = new()
    {
        Name = "T-40",
        Gas = GasKind.Air,
        InletC = 20,
        SetpointC = 1100,
        RatedKw = 40,
        FiringCycleMs = 500,
        HotFlowKgPerHour = 70,
        HotToColdFlow = 0.70,
        WireKg = 3.6,
        WireKjPerKgK = 0.68,
        WireM2 = 0.67,
        LiningKjPerK = 10,
        CouplingWPerK = 10,
        LossWPerK = 1.2,
        ReferenceFlowKgPerHour = 97,
        WatchdogMs = 1000,
        // 1.079 = 1/(1 - exp(-NTU)) at 70 kg/h; the cap lies below the element alarm of 1230 °C.
        Cascade = new() { InnerGainPercentPerK = 2.0, InnerIntegralS = 20, OuterGain = 0.5, OuterIntegralS = 30, ElementPerOutlet = 1.079, ReferenceLagS = 6.5, ElementMaxC = 1225 },
        LocalRampKPerMin = 90,
        SetpointMaxC = 1120,
        Limits = new() { ElementDestructionC = 1350, ElementTripC = 1260, MinimumFlowKgPerHour = 35 },
    };

    /// <summary>All profiles in the order in which they are named in messages.</summary>
    public static IReadOnlyList<PlantProfile> All { get; } = [N1, A1, T40];

    /// <summary>Finds a profile by its name, case ignored.</summary>
    public static bool TryFind(string name, [NotNullWhen(true)] out PlantProfile? profile)
    {
        foreach (PlantProfile candidate in All)
        {
            if (string.Equals(candidate.Name, name, StringComparison.OrdinalIgnoreCase))
            {
                profile = candidate;
                return true;
            }
        }

        profile = null;
        return false;
    }
}
