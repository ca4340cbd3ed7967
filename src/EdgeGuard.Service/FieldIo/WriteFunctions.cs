using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// By which of two functions a device takes a single value: a register by 06 or 16, a coil by 05 or 15. Devices exist
/// that offer one of each pair only and refuse the other with exception 01 (V1.1b3, section 7: the function is not
/// allowed, so nothing was carried out). A refusal turns to the other function, and back when that is refused as well;
/// never twice for one write, so that a device which offers neither costs two requests a write and no more. What a device
/// takes is remembered for the run and told once.
/// </summary>
internal sealed class WriteFunctions(LinkFigures figures, DeviceNews news)
{
    private readonly State[] _registers = new State[byte.MaxValue + 1];
    private readonly State[] _coils = new State[byte.MaxValue + 1];

    [Flags]
    private enum State : byte
    {
        Usual = 0,
        Multiple = 1,
        OnTrial = 2,
        Told = 4,
    }

    /// <summary>True when a single value goes by the function for several (16, 15).</summary>
    public bool IsMultiple(WritePointTable point) => (Of(point) & State.Multiple) != State.Usual;

    /// <summary>Takes note of the answer to a single value; true when the write has to be sent again by the other function.</summary>
    public bool Turns(WritePointTable point, ModbusResult result)
    {
        ref State state = ref Of(point);
        if (result.Exception == ModbusExceptionCode.IllegalFunction)
        {
            bool turns = (state & State.OnTrial) == State.Usual;
            state = turns ? (state ^ State.Multiple) | State.OnTrial : state & ~State.OnTrial;
            return turns;
        }

        if (result.IsGood && (state & State.OnTrial) != State.Usual)
        {
            Tell(point, ref state);
        }

        return false;
    }

    private void Tell(WritePointTable point, ref State state)
    {
        state &= ~State.OnTrial;
        if ((state & State.Told) == State.Usual)
        {
            state |= State.Told;
            figures.Add(LinkFigure.ReplacedFunctions);
            bool isMultiple = (state & State.Multiple) != State.Usual;
            (string one, string many, string what) = point.Table == ModbusTable.Coils ? ("05", "15", "coils") : ("06", "16", "registers");
            news.Add(ShellEventId.FunctionReplaced, $"unit id {point.UnitId} refuses function {(isMultiple ? one : many)} (exception 01); its single {what} are written by function {(isMultiple ? many : one)} from now on");
        }
    }

    private ref State Of(WritePointTable point) => ref (point.Table == ModbusTable.Coils ? _coils : _registers)[point.UnitId];
}
