namespace EdgeGuard.OpcUa.SecureChannel;

/// <summary>Identifiers of a server's channels, none used twice while it runs (2^32 channels). Safe for several threads.</summary>
public sealed class ChannelIds
{
    private uint _last;

    /// <summary>Starts after a number; a server may start anywhere so that a client of its last run is not mistaken for one of this.</summary>
    public ChannelIds(uint last = 0)
    {
        _last = last;
    }

    /// <summary>The next identifier, never 0.</summary>
    public uint Next()
    {
        uint id = Interlocked.Increment(ref _last);
        return id == 0 ? Interlocked.Increment(ref _last) : id;
    }
}
