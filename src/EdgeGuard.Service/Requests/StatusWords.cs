using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.Requests;

/// <summary>The status of a value as words for a person.</summary>
public static class StatusWords
{
    /// <summary>Words for a status code; a code this program never sets is shown as its number.</summary>
    /// <param name="code">OPC UA status code.</param>
    public static string Of(uint code) => code switch
    {
        StatusCode.Good => "good",
        StatusCode.GoodLocalOverride => "FORCED by a person",
        StatusCode.UncertainNoCommunicationLastUsableValue => "stale, the last value read",
        StatusCode.Bad => "bad",
        StatusCode.BadCommunicationError => "the device answered with an error",
        StatusCode.BadNoCommunication => "no answer from the device",
        StatusCode.BadWaitingForInitialData => "nothing read since start",
        StatusCode.BadConfigurationError => "no number in this type and word order",
        StatusCode.BadNotConnected => "not fitted",
        StatusCode.BadSensorFailure => "out of range or sensor broken",
        _ => code.ToString("x8", System.Globalization.CultureInfo.InvariantCulture),
    };

    /// <summary>Words for a code as it stands in the status, 8 hexadecimal digits.</summary>
    /// <param name="hex">The digits.</param>
    public static string Of(string hex) =>
        uint.TryParse(hex, System.Globalization.NumberStyles.HexNumber, System.Globalization.CultureInfo.InvariantCulture, out uint code) ? Of(code) : hex;
}
