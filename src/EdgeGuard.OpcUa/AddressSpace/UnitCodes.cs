using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// Engineering units as OPC 10000-8, 5.6.4.4 wants them: UnitId is the ASCII code of UNECE Recommendation 20 read as a
/// big-endian number, the namespace that of UN/CEFACT. A unit without a code keeps its sign and gets UnitId -1.
/// </summary>
public static class UnitCodes
{
    /// <summary>Namespace of the codes.</summary>
    public const string NamespaceUri = "http://www.opcfoundation.org/UA/units/un/cefact";

    // Sign, code and name of UNECE Recommendation 20, for what heaters and their links measure.
    private static readonly (string Sign, string Code, string Name)[] Known =
    [
        ("°C", "CEL", "degree Celsius"), ("K", "KEL", "kelvin"), ("K/min", "F11", "kelvin per minute"), ("K/s", "F12", "kelvin per second"),
        ("°C/min", "H13", "degree Celsius per minute"), ("W", "WTT", "watt"), ("kW", "KWT", "kilowatt"), ("kWh", "KWH", "kilowatt hour"),
        ("kg/h", "E93", "kilogram per hour"), ("kg/s", "KGS", "kilogram per second"), ("Nm³/h", "Q40", "normal cubic metre per hour"),
        ("Sm³/h", "Q38", "standard cubic metre per hour"), ("m³/h", "MQH", "cubic metre per hour"), ("%", "P1", "percent"),
        ("MΩ", "B75", "megohm"), ("kΩ", "B49", "kiloohm"), ("Ω", "OHM", "ohm"), ("V", "VLT", "volt"), ("mV", "2Z", "millivolt"),
        ("A", "AMP", "ampere"), ("mA", "4K", "milliampere"), ("bar", "BAR", "bar"), ("mbar", "MBR", "millibar"), ("kPa", "KPA", "kilopascal"),
        ("Pa", "PAL", "pascal"), ("h", "HUR", "hour"), ("min", "MIN", "minute"), ("s", "SEC", "second"), ("ms", "C26", "millisecond"),
        ("Hz", "HTZ", "hertz"), ("W/K", "D52", "watt per kelvin"), ("1", "C62", "one"),
    ];

    /// <summary>The unit with this sign, such as "kg/h"; null or empty is the unit "1".</summary>
    public static EUInformation FromSign(string? sign)
    {
        string wanted = string.IsNullOrEmpty(sign) ? "1" : sign;
        foreach ((string known, string code, string name) in Known)
        {
            if (string.Equals(known, wanted, StringComparison.Ordinal))
            {
                return Unit(known, UnitId(code), name);
            }
        }

        return Unit(wanted, -1, wanted);
    }

    /// <summary>The UnitId of a code of up to three characters.</summary>
    public static int UnitId(string code)
    {
        ArgumentNullException.ThrowIfNull(code);
        int id = 0;
        foreach (char c in code)
        {
            id = (id << 8) | c;
        }

        return id;
    }

    private static EUInformation Unit(string sign, int unitId, string name) => new()
    {
        NamespaceUri = NamespaceUri,
        UnitId = unitId,
        DisplayName = new LocalizedText(sign),
        Description = new LocalizedText(name),
    };
}
