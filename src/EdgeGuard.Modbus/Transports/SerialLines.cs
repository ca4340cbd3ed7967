namespace EdgeGuard.Modbus.Transports;

/// <summary>Chooses how a serial port is opened: on Linux by the calls of its C library, elsewhere by System.IO.Ports.</summary>
internal static class SerialLines
{
    public static ISerialLine Create(SerialLineOptions options)
    {
        options.Validate();
        return OperatingSystem.IsLinux() ? new LinuxSerialLine(options) : new PortsSerialLine(options);
    }
}
