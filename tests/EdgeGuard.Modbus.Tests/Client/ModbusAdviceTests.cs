using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Modbus.Tests.Client;

public sealed class ModbusAdviceTests
{
    [Fact]
    public void Every_exception_has_a_sentence_of_its_own_with_its_number()
    {
        string[] sentences = [.. Enumerable.Range(1, 0x0B).Select(c => ModbusAdvice.Of((ModbusExceptionCode)c))];
        Assert.Equal(0x0B, sentences.Distinct().Count());
        Assert.All(sentences.Index(), s => Assert.StartsWith($"exception {s.Index + 1:X2}", s.Item, StringComparison.Ordinal));
    }

    [Fact]
    public void Every_fault_and_every_outcome_has_a_sentence()
    {
        AnswerFault[] faults = [.. Enum.GetValues<AnswerFault>().Except([AnswerFault.FrameLength])]; // the same advice as ProtocolId
        Assert.Equal(faults.Length, faults.Select(ModbusAdvice.Of).Distinct().Count());
        ModbusResult[] results = [.. Enum.GetValues<ModbusOutcome>().Select(o => new ModbusResult(o, ModbusExceptionCode.ServerDeviceBusy))];
        Assert.Equal(results.Length, results.Select(r => ModbusAdvice.Of(r, AnswerFault.UnitId)).Distinct().Count());
        Assert.Contains("another unit answered", ModbusAdvice.Of(new ModbusResult(ModbusOutcome.BadAnswer), AnswerFault.UnitId), StringComparison.Ordinal);
        Assert.Contains("busy", ModbusAdvice.Of(results[(int)ModbusOutcome.DeviceException], AnswerFault.None), StringComparison.Ordinal);
    }
}
