namespace EdgeGuard.Modbus.Client;

/// <summary>What a device says about itself (function 43, type 14).</summary>
/// <param name="Conformity">1 basic, 2 regular, 3 extended; 0x80 more when single objects can be read.</param>
/// <param name="Objects">The objects in the order of the device.</param>
public sealed record DeviceIdentification(byte Conformity, IReadOnlyList<DeviceIdObject> Objects)
{
    /// <summary>Text of the object with this id, or null when the device did not send it.</summary>
    public string? this[byte objectId]
    {
        get
        {
            foreach (DeviceIdObject item in Objects)
            {
                if (item.Id == objectId)
                {
                    return item.Text;
                }
            }

            return null;
        }
    }
}
