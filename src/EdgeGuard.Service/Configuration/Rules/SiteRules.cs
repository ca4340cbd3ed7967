using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>All rules of meaning. Each is silent about values that were reported as wrong before.</summary>
internal static class SiteRules
{
    private static readonly Action<SiteDraft, FaultList>[] All =
    [
        NameRules.Check,
        EndpointRules.Check,
        PublicationRules.Check,
        OverlapRules.Check,
        SignalRules.Check,
        CommandRules.Check,
        CommandRangeRules.Check,
        TemperatureRules.Check,
        FlowRules.Check,
        FittedFunctionRules.Check,
        RedundancyRules.Check,
        ForceRules.Check,
        TimingRules.Check,
        RampRules.Check,
        FinalElementRules.Check,
        ProofTestRules.Check,
        ReactionRules.Check,
        AlarmRules.Check,
    ];

    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (Action<SiteDraft, FaultList> rule in All)
        {
            rule(site, faults);
        }
    }
}
