namespace EdgeGuard.Core.Signals;

/// <summary>Outcome of the latest request for a poll block.</summary>
public enum ReadResult : byte
{
    /// <summary>No request has completed since start or since the link was lost.</summary>
    NeverRead = 0,

    /// <summary>The latest request was answered and its words are in the block.</summary>
    Good = 1,

    /// <summary>The latest request was not answered in time.</summary>
    Timeout = 2,

    /// <summary>The device answered with an exception code.</summary>
    DeviceException = 3,

    /// <summary>The answer did not fit the request.</summary>
    BadAnswer = 4,

    /// <summary>There is no connection to the device.</summary>
    NotConnected = 5,
}
