using EdgeGuard.Service.Configuration.Maps;

namespace EdgeGuard.Service.Configuration.Drafts;

/// <summary>A device as the file states it, with its register map once that was read.</summary>
internal sealed class DeviceDraft(Section section, int index)
{
    public Section Section { get; } = section;

    public int Index { get; } = index;

    public string? Name { get; } = section.Text("name");

    public string? LinkName { get; } = section.Text("link");

    public double UnitId { get; } = section.Number("unitId");

    public string? MapFile { get; } = section.Text("map");

    /// <summary>Registers of one read request at most.</summary>
    public double MaxRegisters { get; } = section.Number("maxRegisters");

    /// <summary>Unused registers that a read request may read over.</summary>
    public double MaxGap { get; } = section.Number("maxGap");

    /// <summary>Time from the end of a request to the answer, ms; by transport unless stated. Set once the link is known.</summary>
    public double AnswerDelayMs => Section.Number("answerDelayMs", OnSerialLine ? LineTiming.AssumedSerialDelayMs : LineTiming.AssumedTcpDelayMs);

    /// <summary>True when the link leads to a serial line whose rate is known.</summary>
    public bool OnSerialLine { get; set; }

    /// <summary>File with the device's settings as they were commissioned; null when none is compared.</summary>
    public string? SettingsFile { get; } = section.Text("settings");

    /// <summary>Registers of each setting as commissioned, by the name of the point; null without a usable snapshot.</summary>
    public IReadOnlyDictionary<string, ushort[]>? Commissioned { get; set; }

    /// <summary>Index of the link; -1 when unknown.</summary>
    public int Link { get; set; } = -1;

    /// <summary>The register map; null when it could not be read at all.</summary>
    public RegisterMap? Map { get; set; }

    /// <summary>True once a unit uses the device.</summary>
    public bool Used { get; set; }
}
