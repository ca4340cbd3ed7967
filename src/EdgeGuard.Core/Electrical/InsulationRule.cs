namespace EdgeGuard.Core.Electrical;

/// <summary>The rule after which an insulation resistance is judged.</summary>
public enum InsulationRule : byte
{
    /// <summary>None chosen: nothing passes.</summary>
    None = 0,

    /// <summary>Electrical equipment of machines, IEC 60204-1:2016 §18.3: 500 V DC, 1 MΩ.</summary>
    Machine = 1,

    /// <summary>The same, parts with busbars, collector wires or slip-rings: 500 V DC, 0.05 MΩ.</summary>
    MachineSlipRings = 2,

    /// <summary>Installations, IEC 60364-6:2016 table 6A (6.1): SELV and PELV, 250 V DC, 0.5 MΩ.</summary>
    InstallationExtraLow = 3,

    /// <summary>Installations up to 500 V: 500 V DC, 1 MΩ.</summary>
    InstallationLow = 4,

    /// <summary>Installations above 500 V: 1000 V DC, 1 MΩ.</summary>
    InstallationHigh = 5,

    /// <summary>Repeated test of equipment of class I (practice of DIN VDE 0701-0702): 500 V DC, 1 MΩ.</summary>
    EquipmentClassI = 6,

    /// <summary>The same with heating elements, which may be damp: 500 V DC, 0.3 MΩ.</summary>
    EquipmentClassIHeating = 7,

    /// <summary>Equipment of class II: 500 V DC, 2 MΩ.</summary>
    EquipmentClassII = 8,

    /// <summary>Equipment of class III: 250 V DC, 0.25 MΩ.</summary>
    EquipmentClassIII = 9,
}
