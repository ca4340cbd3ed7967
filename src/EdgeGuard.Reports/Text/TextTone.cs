namespace EdgeGuard.Reports.Text;

/// <summary>Colour meaning of a cell of terminal text; always beside a word or a number, never instead of one.</summary>
internal enum TextTone : byte
{
    /// <summary>As the terminal is set.</summary>
    Plain = 0,

    /// <summary>Frames and units.</summary>
    Dim = 1,

    /// <summary>Names.</summary>
    Strong = 2,

    /// <summary>Healthy.</summary>
    Good = 3,

    /// <summary>Hot, or near a limit.</summary>
    Warm = 4,

    /// <summary>Tripped, or over a limit.</summary>
    Fault = 5,
}
