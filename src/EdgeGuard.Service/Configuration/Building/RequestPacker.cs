namespace EdgeGuard.Service.Configuration.Building;

/// <summary>
/// Points of one table → the fewest read requests: from the lowest address on, each request reaches as far as the
/// largest gap and the largest request allow. A point is never split between two requests. Taking all that fits is the
/// optimum here, since a request that ended earlier could only make the next one begin earlier; a test compares it with
/// trying everything.
/// </summary>
internal static class RequestPacker
{
    /// <summary>Packs points, sorted by address; several may share registers.</summary>
    /// <param name="points">First address and number of registers or bits of each point.</param>
    /// <param name="largestGap">Unused registers that a request may read over.</param>
    /// <param name="most">Registers or bits of one request at most.</param>
    public static List<PackedRequest> Pack(IReadOnlyList<(int Address, int Count)> points, int largestGap, int most)
    {
        var requests = new List<PackedRequest>();
        PackedRequest? open = null;
        foreach ((int address, int count) in points)
        {
            int end = address + count;
            if (open is null || address - open.End > largestGap || Math.Max(open.End, end) - open.Address > most)
            {
                open = new PackedRequest(address);
                requests.Add(open);
            }

            open.Add(address, count);
        }

        return requests;
    }
}
