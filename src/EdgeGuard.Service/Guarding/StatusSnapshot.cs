using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Guarding.Watching;

namespace EdgeGuard.Service.Guarding;

/// <summary>What the status needs of one scan, copied by the scan thread. Allocated once.</summary>
internal sealed class StatusSnapshot
{
    public StatusSnapshot(int unitCount)
    {
        Units = new UnitSnapshot[unitCount];
        for (int i = 0; i < unitCount; i++)
        {
            Units[i] = new UnitSnapshot();
        }
    }

    public long Scan { get; private set; } = -1;

    public long UtcUnixMs { get; private set; }

    public double SitePowerKw { get; private set; } = double.NaN;

    public AlarmFigures Alarms { get; private set; }

    public UnitSnapshot[] Units { get; }

    public void CopyFrom(RawScan scan, ScanOutput output, SiteWatch watch)
    {
        Scan = scan.Scan;
        UtcUnixMs = scan.UtcUnixMs;
        SitePowerKw = output.SitePowerKw;
        Alarms = AlarmFigures.Of(watch);
        for (int i = 0; i < Units.Length; i++)
        {
            Units[i].CopyFrom(output.Units[i], watch[i]);
        }
    }
}
