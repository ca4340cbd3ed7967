namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>Links from a triggering item to others of its subscription (OPC 10000-4, 5.12.5). Under the server's gate.</summary>
internal static class TriggerLinks
{
    public static StatusCode[] Add(MonitoredItem item, uint[]? ids, int linksMax)
    {
        var results = new StatusCode[ids?.Length ?? 0];
        for (int i = 0; i < results.Length; i++)
        {
            if (!item.Subscription.Items.TryGetValue(ids![i], out MonitoredItem? linked))
            {
                results[i] = StatusCode.BadMonitoredItemIdInvalid;
                continue;
            }

            item.Links ??= [];
            if (!item.Links.Contains(linked))
            {
                results[i] = item.Links.Count < linksMax ? StatusCode.Good : StatusCode.BadTooManyOperations;
                if (results[i] == StatusCode.Good)
                {
                    item.Links.Add(linked);
                }
            }
        }

        return results;
    }

    public static StatusCode[] Remove(MonitoredItem item, uint[]? ids)
    {
        var results = new StatusCode[ids?.Length ?? 0];
        for (int i = 0; i < results.Length; i++)
        {
            bool removed = item.Subscription.Items.TryGetValue(ids![i], out MonitoredItem? linked) && item.Links?.Remove(linked) == true;
            results[i] = removed ? StatusCode.Good : StatusCode.BadMonitoredItemIdInvalid;
        }

        return results;
    }
}
