using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.Guarding;

/// <summary>
/// Which alarms were hidden by people when the run before ended, however it ended: the journal knows. Nothing hidden
/// outlives a run, so each of them is shown again, and the new run says so. A journal that cannot be read names none.
/// </summary>
internal static class HiddenAtEnd
{
    /// <summary>A sentence for each alarm that was still hidden.</summary>
    /// <param name="storage">The journal, before the new run writes into it.</param>
    public static IReadOnlyList<string> Of(IJournalStorage storage)
    {
        var hidden = new SortedDictionary<string, string>(StringComparer.Ordinal);
        string? run = null;
        try
        {
            foreach ((_, _, JournalRecord? record) in JournalReader.ReadLatestRun(storage))
            {
                if (record is null)
                {
                    continue;
                }

                if (!string.Equals(record["run"], run, StringComparison.Ordinal))
                {
                    run = record["run"];
                    hidden.Clear();
                }

                Take(record, hidden);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or InvalidDataException)
        {
            return [];
        }

        return [.. hidden.Select(static h => $"{h.Key} was {h.Value} when the run before ended; it is shown again.")];
    }

    private static void Take(JournalRecord record, SortedDictionary<string, string> hidden)
    {
        string alarm = $"{record["unit"]}: the alarm of {record["function"] ?? AlarmTexts.Trip}";
        switch ((EventId)record.EventId)
        {
            case EventId.AlarmShelved:
                hidden[alarm] = "shelved";
                break;
            case EventId.AlarmRemovedFromService:
                hidden[alarm] = "out of service";
                break;
            case EventId.AlarmUnshelved or EventId.AlarmShelvingExpired or EventId.AlarmReturnedToService:
                hidden.Remove(alarm);
                break;
            default:
                break;
        }
    }
}
