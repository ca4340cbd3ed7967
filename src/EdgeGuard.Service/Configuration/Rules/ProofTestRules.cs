using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>Interlocks that were never proof-tested may enforce only with a reason and until a date.</summary>
internal static class ProofTestRules
{
    private const int LongestWaiverDays = 366;

    public static void Check(SiteDraft site, FaultList faults)
    {
        foreach (UnitDraft unit in site.Units)
        {
            if (unit.Enforces && !unit.Section.Has("proofTest") && !unit.Section.Has("proofTestWaiver"))
            {
                faults.Add(unit.Section.At("mode"), "the interlocks of this unit were never proof-tested, so it may not enforce", "neither \"proofTest\" nor \"proofTestWaiver\"", "the record of the proof test, or a reason and an expiry for enforcing without one", "\"proofTest\": { \"record\": \"…\", \"date\": \"YYYY-MM-DD\" }, or \"mode\": \"observe\"");
            }

            if (unit.ProofTest.Date("date") is { } tested && tested > site.Today)
            {
                faults.Add(unit.ProofTest.At("date"), "the proof test lies in the future", $"{tested:yyyy-MM-dd}", $"a date up to {site.Today:yyyy-MM-dd}", "the day on which the test was done");
            }

            CheckWaiver(site, unit, faults);
        }
    }

    private static void CheckWaiver(SiteDraft site, UnitDraft unit, FaultList faults)
    {
        if (unit.ProofTestWaiver.Date("expires") is not { } expires)
        {
            return;
        }

        if (expires <= site.Today)
        {
            faults.Add(unit.ProofTestWaiver.At("expires"), "the waiver of the proof test has expired", $"{expires:yyyy-MM-dd}", $"a date after {site.Today:yyyy-MM-dd}", "to do the proof test and state its record under \"proofTest\"");
        }
        else if (expires.DayNumber - site.Today.DayNumber > LongestWaiverDays)
        {
            faults.Add(unit.ProofTestWaiver.At("expires"), "the waiver of the proof test runs too long", $"{expires:yyyy-MM-dd}", $"a date within {LongestWaiverDays} days", "the day until which the proof test is planned");
        }
    }
}
