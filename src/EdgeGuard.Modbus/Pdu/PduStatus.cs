namespace EdgeGuard.Modbus.Pdu;

/// <summary>Verdict of the request decoder. Zero is never good.</summary>
public enum PduStatus : byte
{
    /// <summary>Nothing was decoded.</summary>
    None = 0,

    /// <summary>The request is well formed; the device still judges its address and value.</summary>
    Ok = 1,

    /// <summary>No function byte.</summary>
    Empty = 2,

    /// <summary>The function is not one of this codec: exception 01.</summary>
    UnknownFunction = 3,

    /// <summary>More or fewer bytes than the function asks for: exception 03.</summary>
    BadLength = 4,

    /// <summary>The quantity is outside the limits of the function: exception 03.</summary>
    BadQuantity = 5,

    /// <summary>The byte count does not fit the quantity: exception 03.</summary>
    BadByteCount = 6,

    /// <summary>The value is not one that the function allows: exception 03.</summary>
    BadValue = 7,

    /// <summary>Address plus quantity runs past 65536: exception 02.</summary>
    BadAddress = 8,

    /// <summary>The sub-function (08) or interface type (2B) is not one of this codec: exception 01.</summary>
    UnknownSubFunction = 9,
}
