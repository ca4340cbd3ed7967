namespace EdgeGuard.Modbus.Server;

/// <summary>What a server does with a request for a unit it does not have.</summary>
public enum UnknownUnitReaction : byte
{
    /// <summary>Exception 0A, gateway path unavailable: the client knows at once.</summary>
    AnswerGatewayPathUnavailable = 0,

    /// <summary>No answer, as from a serial line without that device.</summary>
    StaySilent = 1,
}
