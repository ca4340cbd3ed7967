using System.Formats.Asn1;
using System.Security.Cryptography.X509Certificates;

namespace EdgeGuard.Modbus.Security;

/// <summary>
/// The role in a client's certificate (Modbus/TCP Security protocol specification v21, 2018): an extension with one
/// ASN.1 UTF8String. A certificate without it, or with one that is not exactly that, has no role, and no role has no
/// rights.
/// </summary>
public static class ModbusRole
{
    /// <summary>Object identifier of the extension.</summary>
    public const string ExtensionOid = "1.3.6.1.4.1.50316.802.1";

    /// <summary>Port of Modbus/TCP Security (mbap/TLS/TCP).</summary>
    public const int Port = 802;

    private const int MaxExtensionLength = 256;

    /// <summary>The role, or null when there is none.</summary>
    public static string? Of(X509Certificate2 certificate)
    {
        X509Extension? extension = certificate.Extensions[ExtensionOid];
        if (extension is null || extension.RawData.Length > MaxExtensionLength)
        {
            return null;
        }

        try
        {
            string role = AsnDecoder.ReadCharacterString(extension.RawData, AsnEncodingRules.DER, UniversalTagNumber.UTF8String, out int consumed);
            return consumed == extension.RawData.Length && role.Length > 0 ? role : null;
        }
        catch (AsnContentException)
        {
            return null;
        }
    }
}
