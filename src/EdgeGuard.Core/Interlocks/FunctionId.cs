namespace EdgeGuard.Core.Interlocks;

/// <summary>
/// The protective functions (supervisory software interlocks). The order is the order of evaluation and breaks
/// ties of first-out within one scan. Numbers are never reused: they stand in journals.
/// </summary>
public enum FunctionId : byte
{
    /// <summary>No function.</summary>
    None = 0,

    /// <summary>Power-on of the guard: every unit starts tripped with this cause.</summary>
    Start = 1,

    /// <summary>Hardwired safety chain as an input.</summary>
    Hard = 2,

    /// <summary>Minimum flow before power.</summary>
    Flow = 3,

    /// <summary>Element temperature.</summary>
    Elem = 4,

    /// <summary>Outlet gas temperature.</summary>
    Outl = 5,

    /// <summary>No response of the element to power.</summary>
    Nors = 6,

    /// <summary>Residual power after removal.</summary>
    Resd = 7,

    /// <summary>Device link and heartbeat.</summary>
    Comm = 8,

    /// <summary>Sensor validity.</summary>
    Sens = 9,

    /// <summary>Command verification: read-back differs, key switch on local.</summary>
    Cmdv = 10,

    /// <summary>Cool-down rate.</summary>
    Cool = 11,

    /// <summary>Heat-up rate.</summary>
    Heat = 12,

    /// <summary>After-cooling.</summary>
    Aftc = 13,

    /// <summary>Shared supply.</summary>
    Dmnd = 14,

    /// <summary>Journal cannot be written.</summary>
    Jrnl = 15,

    /// <summary>An operator's request to stop (journalled as cause, not a fault).</summary>
    Stop = 16,

    /// <summary>A broken invariant inside the unit's own step.</summary>
    Self = 17,

    /// <summary>Phase loss and unbalance of the line currents.</summary>
    Phas = 18,

    /// <summary>Earth leakage and insulation.</summary>
    Leak = 19,

    /// <summary>Energy balance.</summary>
    Bala = 20,
}
