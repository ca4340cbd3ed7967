namespace EdgeGuard.Core.Thermal;

/// <summary>Who made the element cool: told apart in the ledger of thermal stress.</summary>
public enum StressCause : byte
{
    /// <summary>A removal of power by a trip, or a cause that is not known: the severe one.</summary>
    ForcedByTrip = 0,

    /// <summary>Led by the guard or asked for by a person.</summary>
    Led = 1,
}
