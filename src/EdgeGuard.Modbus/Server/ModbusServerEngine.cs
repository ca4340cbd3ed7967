namespace EdgeGuard.Modbus.Server;

/// <summary>What the server engines of all framings share: received bytes in, answer bytes out, one frame a call. No I/O and no clock.</summary>
public abstract class ModbusServerEngine
{
    private protected ModbusServerEngine()
    {
    }

    /// <summary>While true, whole requests are discarded: neither carried out nor answered.</summary>
    public bool IsSilent { get; set; }

    /// <summary>Room an answer may need, in bytes.</summary>
    public abstract int OutputLength { get; }

    /// <summary>True when a silence ends what could not be told to be a frame before (RTU).</summary>
    public abstract bool EndsBySilence { get; }

    private protected RequestProcessor Processor { get; } = new();

    /// <summary>Processes the first frame of the received bytes.</summary>
    /// <param name="received">All bytes received and not yet consumed.</param>
    /// <param name="output">Takes the answer; at least <see cref="OutputLength"/> bytes.</param>
    /// <param name="consumed">Bytes done with; never more than there are.</param>
    /// <param name="produced">Bytes of the answer; 0 when none is due.</param>
    public abstract ServerStatus Process(ReadOnlySpan<byte> received, Span<byte> output, out int consumed, out int produced);

    /// <summary>The line has been silent: what was received is one frame, or nothing.</summary>
    /// <param name="received">All bytes received and not yet consumed; all are done with afterwards.</param>
    /// <param name="output">Takes the answer; at least <see cref="OutputLength"/> bytes.</param>
    /// <param name="produced">Bytes of the answer; 0 when none is due.</param>
    /// <returns>Broken for bytes that are no frame.</returns>
    public abstract ServerStatus ProcessSilence(ReadOnlySpan<byte> received, Span<byte> output, out int produced);
}
