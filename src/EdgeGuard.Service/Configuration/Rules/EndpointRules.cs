using EdgeGuard.Modbus.Transports;
using EdgeGuard.Service.Configuration.Drafts;

namespace EdgeGuard.Service.Configuration.Rules;

/// <summary>
/// Each link says where it leads, in the keys of its transport and no others. One connection an endpoint and one entry
/// a device: many devices serve one client only, and a serial port has one master.
/// </summary>
internal static class EndpointRules
{
    private const int HighestSerialUnitId = 247; // Modbus over serial line V1.02, 2.2

    private static readonly string[] NetworkKeys = ["host", "port", "connectMs"];
    private static readonly string[] SerialKeys = ["serialPort", "parity", "stopBits"];

    public static void Check(SiteDraft site, FaultList faults)
    {
        var endpoints = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (LinkDraft link in site.Links)
        {
            CheckKeys(link, faults);
            if (link.Transport == LinkTransport.Serial)
            {
                CheckSerial(link, endpoints, faults);
            }
            else if (link.Transport != LinkTransport.None)
            {
                CheckNetwork(link, endpoints, faults);
            }

            if (link.ReconnectMaxMs < link.ReconnectMinMs)
            {
                faults.Add(link.Section.At("reconnectMaxMs"), "the longest wait between two attempts is shorter than the first", $"{link.ReconnectMaxMs} ms", $"at least {link.ReconnectMinMs} ms", "to leave \"reconnectMaxMs\" out");
            }
        }

        CheckDevices(site, faults);
    }

    private static void CheckKeys(LinkDraft link, FaultList faults)
    {
        bool serial = link.Transport == LinkTransport.Serial;
        if (link.Transport == LinkTransport.None)
        {
            return;
        }

        foreach (string key in (serial ? NetworkKeys : SerialKeys).Where(link.Section.Has))
        {
            string advice = serial ? $"to remove \"{key}\", or another \"transport\"" : $"to remove \"{key}\", or \"transport\": \"serial\"";
            faults.Add(link.Section.At(key), $"the key \"{key}\" has no meaning for this link", $"\"{key}\" with transport {Name(link.Transport)}", serial ? "serialPort, baud, parity, stopBits" : "host and port", advice);
        }

        if (link.LocalEcho && link.Transport == LinkTransport.Tcp)
        {
            faults.Add(link.Section.At("localEcho"), "the key \"localEcho\" has no meaning for this link", "\"localEcho\" with transport tcp", "a serial line: Modbus TCP has no echo", "to remove it");
        }

        if (link.Section.Has("security") && link.Transport != LinkTransport.Tcp)
        {
            faults.Add(link.Section.At("security"), "the key \"security\" has no meaning for this link", $"\"security\" with transport {Name(link.Transport)}", "Modbus TCP: RTU frames are not secured", "to remove it");
        }

        if (link.ZeroTransactionIds && link.Transport != LinkTransport.Tcp)
        {
            faults.Add(link.Section.At("zeroTransactionIds"), "the key \"zeroTransactionIds\" has no meaning for this link", $"\"zeroTransactionIds\" with transport {Name(link.Transport)}", "Modbus TCP: RTU frames have no transaction id", "to remove it");
        }
    }

    private static void CheckNetwork(LinkDraft link, HashSet<string> endpoints, FaultList faults)
    {
        if (link.Host is not { } host)
        {
            if (!link.Section.Has("host") && !link.Section.Misspells("host"))
            {
                faults.Add(link.Section.Place, "the key \"host\" is missing", "no \"host\" in this entry of \"links\"", "text in quotes", "\"host\": \"…\"");
            }
        }
        else if (Uri.CheckHostName(host) == UriHostNameType.Unknown)
        {
            faults.Add(link.Section.At("host"), "the host cannot be used", Quoted.Of(host), "a host name or an IP address without port", "\"192.168.1.10\", and the port under \"port\"");
        }
        else if (double.IsFinite(link.Port) && !endpoints.Add($"{host} {link.Port}"))
        {
            faults.Add(link.Section.At("host"), "two links lead to the same endpoint", $"{Quoted.Of(host)} port {link.Port}", "one link an endpoint", "to put the devices of both on one link");
        }
    }

    private static void CheckSerial(LinkDraft link, HashSet<string> endpoints, FaultList faults)
    {
        if (double.IsFinite(link.Baud) && !SerialLineOptions.BaudRates.Contains((int)link.Baud))
        {
            faults.Add(link.Section.At("baud"), "not every system can set this rate", $"{link.Baud} baud", "one of " + string.Join(", ", SerialLineOptions.BaudRates), "the rate that is set at the devices");
        }

        if (link.SerialPort is not { } port)
        {
            if (!link.Section.Has("serialPort") && !link.Section.Misspells("serialPort"))
            {
                faults.Add(link.Section.Place, "the key \"serialPort\" is missing", "no \"serialPort\" in a link with transport serial", "the name of the port", "\"serialPort\": \"/dev/ttyUSB0\" or \"COM3\"");
            }
        }
        else if (!(port.StartsWith('/') || port.StartsWith("COM", StringComparison.Ordinal)))
        {
            faults.Add(link.Section.At("serialPort"), "the serial port cannot be used", Quoted.Of(port), "the full path of a device file, or COM and a number", "\"/dev/ttyUSB0\", or better its name under /dev/serial/by-id, which does not change when adapters are plugged");
        }
        else if (!endpoints.Add(port))
        {
            faults.Add(link.Section.At("serialPort"), "two links use the same serial port", Quoted.Of(port), "one link a port", "to put the devices of both on one link");
        }
    }

    private static void CheckDevices(SiteDraft site, FaultList faults)
    {
        var devices = new HashSet<(int Link, double UnitId)>();
        foreach (DeviceDraft device in site.Devices.Where(d => d.Link >= 0 && double.IsFinite(d.UnitId)))
        {
            if (!devices.Add((device.Link, device.UnitId)))
            {
                faults.Add(device.Section.At("unitId"), "two devices have the same unit id on one link", $"{device.UnitId}", "each unit id once on a link", "the unit id that is set at the device, or to merge the two entries into one with one map");
            }

            if (device.Map?.Points.FirstOrDefault(p => !p.IsBitTable && p.WordCount > device.MaxRegisters) is { } wide)
            {
                faults.Add(device.Section.At("maxRegisters"), "a point does not fit into one request of the device", $"{Quoted.Of(wide.Name)} with {wide.WordCount} registers, at most {device.MaxRegisters} a request", "every point whole in one request", "the number of registers the device's manual allows");
            }

            if (device.UnitId > HighestSerialUnitId && site.Links[device.Link].Transport is LinkTransport.Serial or LinkTransport.RtuOverTcp)
            {
                faults.Add(device.Section.At("unitId"), "no device on a serial line has this unit id", $"{device.UnitId}", $"1 to {HighestSerialUnitId}", "the address set at the device");
            }
        }
    }

    private static string Name(LinkTransport transport) => transport switch
    {
        LinkTransport.RtuOverTcp => "rtuTcp",
        LinkTransport.Serial => "serial",
        _ => "tcp",
    };
}
