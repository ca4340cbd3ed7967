using System.Text;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Modbus.Tests;

/// <summary>A memory device with an exception status and an identification, by default that of the example in V1.1b3, 6.21.</summary>
internal sealed class DiagnosticMemoryDevice(int size = 65536) : MemoryDevice(size), IModbusDiagnosticDevice
{
    public byte Status { get; set; }

    public Dictionary<byte, byte[]> Objects { get; } = new()
    {
        [0] = Encoding.ASCII.GetBytes("Company identification"),
        [1] = Encoding.ASCII.GetBytes("Product code XX"),
        [2] = Encoding.ASCII.GetBytes("V2.11"),
    };

    public ModbusExceptionCode ReadExceptionStatus(out byte status)
    {
        status = Status;
        return Refusal;
    }

    public ReadOnlySpan<byte> IdentificationObject(byte objectId) => Objects.GetValueOrDefault(objectId);
}
