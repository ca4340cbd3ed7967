namespace EdgeGuard.Modbus.Client;

/// <summary>Outcome of one client transaction with the exception code where there is one.</summary>
/// <param name="Outcome">What became of the transaction.</param>
/// <param name="Exception">Exception code; None unless the outcome is <see cref="ModbusOutcome.DeviceException"/>.</param>
public readonly record struct ModbusResult(ModbusOutcome Outcome, ModbusExceptionCode Exception = ModbusExceptionCode.None)
{
    /// <summary>True when the answer matches the request.</summary>
    public bool IsGood => Outcome == ModbusOutcome.Good;
}
