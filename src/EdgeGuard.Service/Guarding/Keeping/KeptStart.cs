using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;
using EdgeGuard.Records.Kept;

namespace EdgeGuard.Service.Guarding.Keeping;

/// <summary>
/// What the runs before left, as this run takes it over: read once at the start, judged, and told in the journal. A file
/// that is missing or damaged lets the unit count from zero and is never a reason not to protect; a learnt figure that
/// rests on another gas or sensor is discarded, because it would be wrong with conviction.
/// </summary>
internal sealed class KeptStart
{
    private readonly List<KeptLine> _lines = [];

    /// <summary>Reads the files of all units.</summary>
    /// <param name="plan">The plan of the run.</param>
    /// <param name="utcMs">UTC of the start.</param>
    public KeptStart(GuardPlan plan, long utcMs)
    {
        Store = new KeptStore(Path.Combine(plan.DataFolder, GuardHost.KeptFolder));
        Records = new KeptRecord[plan.Site.Units.Count];
        Taken = new bool[Records.Length];
        for (int i = 0; i < Records.Length; i++)
        {
            LearntBasis basis = i < plan.Bases.Count ? plan.Bases[i] : new LearntBasis();
            Records[i] = Load(plan.Site.Name, plan.Site.Units[i].Name, basis, utcMs, out Taken[i]);
        }
    }

    /// <summary>Where the files are.</summary>
    public KeptStore Store { get; }

    /// <summary>Records in the order of the site; new ones where nothing was left.</summary>
    public KeptRecord[] Records { get; }

    /// <summary>The record of the unit comes from a run before.</summary>
    public bool[] Taken { get; }

    /// <summary>What the journal is to be told.</summary>
    public IReadOnlyList<KeptLine> Lines => _lines;

    /// <summary>The part of the core.</summary>
    public IReadOnlyList<KeptFigures> Figures => [.. Records.Select(static r => r.ToFigures())];

    /// <summary>All of it as text, for the recording.</summary>
    public byte[] ToBytes()
    {
        var codec = new KeptCodec();
        var bytes = new List<byte>();
        foreach (KeptRecord record in Records)
        {
            codec.Write(record);
            bytes.AddRange(codec.Written);
        }

        return [.. bytes];
    }

    private KeptRecord Load(string site, string unit, LearntBasis basis, long utcMs, out bool taken)
    {
        taken = Store.TryRead(unit, out KeptRecord? record, out string hash, out string fault);
        if (taken && !(string.Equals(record!.Site, site, StringComparison.Ordinal) && string.Equals(record.Unit, unit, StringComparison.Ordinal)))
        {
            taken = false;
            fault = $"{Store.PathOf(unit)}: it belongs to unit {record.Unit} of site {record.Site}";
        }

        if (!taken)
        {
            _lines.Add(fault.Length == 0
                ? new KeptLine(ShellEventId.FiguresNone, unit, "no figures of an earlier run; counting begins at zero")
                : new KeptLine(ShellEventId.FiguresDamaged, unit, $"{fault}; counting begins at zero; the file was {Aside(unit)}"));
            return new KeptRecord { Site = site, Unit = unit, SinceUtcMs = utcMs, LossBasis = basis.Loss, FloorsBasis = basis.Floors, LegsBasis = basis.Legs, LeakBasis = basis.Leak };
        }

        _lines.Add(new KeptLine(ShellEventId.FiguresTaken, unit, $"counting on since {JournalLineCodec.FormatUtc(record!.SinceUtcMs)}; {Store.NameOf(unit)} sha256 {hash}, saved {JournalLineCodec.FormatUtc(record.SavedUtcMs)} by run {record.RunId}"));
        Discard(record, unit, basis);
        return record;
    }

    private void Discard(KeptRecord record, string unit, LearntBasis basis)
    {
        if (!string.Equals(record.LossBasis, basis.Loss, StringComparison.Ordinal) && record.Loss.Blocks > 0)
        {
            record.Loss = default;
            _lines.Add(new KeptLine(ShellEventId.LearntDiscarded, unit, "the learnt loss of the energy balance rests on another gas, sensor or setting and is learnt anew"));
        }

        if (!string.Equals(record.FloorsBasis, basis.Floors, StringComparison.Ordinal) && record.Floors != default)
        {
            record.Floors = default;
            _lines.Add(new KeptLine(ShellEventId.LearntDiscarded, unit, "the learnt noise of the sensors rests on another sensor or scan period; a person has to let it be learnt anew"));
        }

        if (!string.Equals(record.LegsBasis, basis.Legs, StringComparison.Ordinal) && (record.Legs[0].BaselineOhm > 0 || record.LegDayBlocks > 0))
        {
            record.Legs.AsSpan().Fill(KeptRecord.NoLeg);
            (record.LegDay, record.LegDayBlocks) = (-1, 0);
            _lines.Add(new KeptLine(ShellEventId.LearntDiscarded, unit, "the trend of the legs rests on another alloy, current transformer or sensor and begins anew"));
        }

        if (!string.Equals(record.LeakBasis, basis.Leak, StringComparison.Ordinal) && record.Leakage.Day + record.Insulation.Day > 0)
        {
            (record.Leakage, record.Insulation) = (KeptRecord.NoLeak, KeptRecord.NoLeak);
            _lines.Add(new KeptLine(ShellEventId.LearntDiscarded, unit, "the trend of leakage and insulation rests on another sensor or alarm limit and begins anew"));
        }

        record.LeakBasis = basis.Leak;
        (record.LossBasis, record.FloorsBasis, record.LegsBasis) = (basis.Loss, basis.Floors, basis.Legs);
    }

    private string Aside(string unit) => Store.SetAside(unit, "damaged") is { } path ? $"moved to {path}" : "left where it was and will be replaced";
}
