namespace EdgeGuard.Modbus.Pdu;

/// <summary>What a read of the device identification asks for (Application Protocol V1.1b3, 6.21, Read Device ID code). Zero is none of them.</summary>
public enum DeviceIdAccess : byte
{
    /// <summary>Not stated; refused with exception 03.</summary>
    None = 0,

    /// <summary>Stream of the basic objects: vendor, product code, revision.</summary>
    Basic = 1,

    /// <summary>Stream of the basic and the regular objects.</summary>
    Regular = 2,

    /// <summary>Stream of all objects, those of the maker (0x80 and up) included.</summary>
    Extended = 3,

    /// <summary>One object by its id.</summary>
    Individual = 4,
}
