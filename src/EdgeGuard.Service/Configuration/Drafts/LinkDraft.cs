using EdgeGuard.Modbus.Security;

namespace EdgeGuard.Service.Configuration.Drafts;

/// <summary>A link as the file states it; numbers that are wrong read NaN.</summary>
internal sealed class LinkDraft(Section section, double scanMs)
{
    /// <summary>Share of the scan period that polling may take by default.</summary>
    private const double LeadShare = 0.6;

    /// <summary>The rate every device must offer as default: serial line specification V1.02, 2.2.</summary>
    private const double DefaultBaud = 19_200;

    private const double SecurePort = 802;

    public Section Section { get; } = section;

    public string? Name { get; } = section.Text("name");

    public LinkTransport Transport { get; } = section.Text("transport") switch
    {
        "rtuTcp" => LinkTransport.RtuOverTcp,
        "serial" => LinkTransport.Serial,
        _ when section.Has("transport") && section.Text("transport") is null => LinkTransport.None,
        _ => LinkTransport.Tcp,
    };

    public string? Host { get; } = section.Text("host");

    /// <summary>Assigned ports: 502 Modbus, 802 Modbus/TCP Security (protocol specification v21, 2018).</summary>
    public double Port { get; } = section.Has("security") && !section.Has("port") ? SecurePort : section.Number("port");

    public string? SerialPort { get; } = section.Text("serialPort");

    /// <summary>Rate of the serial line, of this machine or behind a gateway; NaN when there is none or it is not stated.</summary>
    public double Baud => Section.Number("baud", Transport == LinkTransport.Serial ? DefaultBaud : double.NaN);

    public LineParity Parity { get; } = section.Text("parity") switch
    {
        "none" => LineParity.None,
        "odd" => LineParity.Odd,
        _ => LineParity.Even,
    };

    /// <summary>Without parity two stop bits, so that a character has 11 bits: serial line specification V1.02, 2.5.1.</summary>
    public double StopBits => Section.Number("stopBits", Parity == LineParity.None ? 2 : 1);

    public double ConnectMs { get; } = section.Number("connectMs");

    public double AnswerMs { get; } = section.Number("answerMs");

    public double PollLeadMs { get; } = section.Number("pollLeadMs", Math.Floor(scanMs * LeadShare));

    public double ReconnectMinMs { get; } = section.Number("reconnectMinMs");

    public double ReconnectMaxMs { get; } = section.Number("reconnectMaxMs");

    public bool ZeroTransactionIds { get; } = section.Flag("zeroTransactionIds");

    public bool LocalEcho { get; } = section.Flag("localEcho");

    public Section Security { get; } = section.Child("security");

    /// <summary>What the files of <see cref="Security"/> hold; null without them.</summary>
    public ModbusTlsOptions? Tls { get; set; }
}
