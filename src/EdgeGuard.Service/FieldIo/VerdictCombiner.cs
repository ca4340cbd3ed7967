using EdgeGuard.Core.Signals;

namespace EdgeGuard.Service.FieldIo;

/// <summary>
/// Makes one verdict of those of several devices, which may lie on different links: different as soon as one is known to
/// be, unknown while one is not known, as old as the oldest. Scan thread only; allocates nothing.
/// </summary>
internal sealed class VerdictCombiner
{
    private readonly int[] _blocks;
    private readonly int[][] _parts;

    public VerdictCombiner(IReadOnlyList<CombinedVerdictTable> verdicts)
    {
        _blocks = [.. verdicts.Select(static v => v.Block)];
        _parts = [.. verdicts.Select(static v => v.Parts.ToArray())];
    }

    /// <summary>True for a block that is made here and read from no device.</summary>
    public bool Makes(int block) => Array.IndexOf(_blocks, block) >= 0;

    /// <summary>Fills the combined blocks of a scan whose other blocks are filled.</summary>
    public void Fill(RawScan scan)
    {
        for (int i = 0; i < _blocks.Length; i++)
        {
            Combine(scan.Blocks, _parts[i], ref scan.Blocks[_blocks[i]]);
        }
    }

    private static void Combine(RawBlock[] blocks, int[] parts, ref RawBlock verdict)
    {
        ref RawBlock worst = ref blocks[parts[0]];
        int ageMs = 0;
        for (int i = 0; i < parts.Length; i++)
        {
            ref RawBlock part = ref blocks[parts[i]];
            ageMs = Math.Max(ageMs, part.AgeMs);
            if (Rank(part) > Rank(worst))
            {
                worst = ref part;
            }
        }

        verdict.Result = worst.Result;
        verdict.ExceptionCode = worst.ExceptionCode;
        verdict.ReadCount = worst.ReadCount;
        verdict.Words[0] = worst.Words[0];

        // One that differs is told as fresh as it is known, whatever became of the others.
        verdict.AgeMs = Rank(worst) == 2 ? worst.AgeMs : ageMs;
    }

    private static int Rank(in RawBlock verdict) =>
        verdict.Result != ReadResult.Good ? 1 : verdict.Words[0] == 0 ? 2 : 0;
}
