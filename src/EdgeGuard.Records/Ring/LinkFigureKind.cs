namespace EdgeGuard.Records.Ring;

/// <summary>What a figure of a link is.</summary>
public enum LinkFigureKind : byte
{
    /// <summary>A count of things that go wrong or are in the way; worth a look when it rises.</summary>
    Trouble = 0,

    /// <summary>A count of ordinary work.</summary>
    Work = 1,

    /// <summary>1 while it holds, otherwise 0.</summary>
    State = 2,

    /// <summary>A time in µs; 0 before the first answer.</summary>
    RoundTrip = 3,
}
