namespace EdgeGuard.Modbus.Security;

/// <summary>What a role may do on a secured server. Zero is nothing.</summary>
[Flags]
public enum ModbusRight
{
    /// <summary>Nothing: every request is answered with exception 01.</summary>
    None = 0,

    /// <summary>The functions that change nothing: 01 to 04, 07, 08, 43.</summary>
    Read = 1,

    /// <summary>The functions that change something: 05, 06, 15, 16, 22. Function 23 needs both.</summary>
    Write = 2,
}
