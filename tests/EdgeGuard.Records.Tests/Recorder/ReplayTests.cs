using CsCheck;
using EdgeGuard.Core;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Tests.Interlocks;
using EdgeGuard.Records.Kept;
using EdgeGuard.Records.Recorder;

namespace EdgeGuard.Records.Tests.Recorder;

/// <summary>
/// A recording is worth its bytes only if it gives the decisions back: random lives of two heaters are recorded, read
/// from the file and put through a fresh guard, and every decision and event has to be the same, bit for bit.
/// </summary>
public sealed class ReplayTests
{
    [Trait("requirement", "PURE-1")]
    [Fact]
    public void Recorded_scans_through_a_fresh_guard_decide_the_same_bit_for_bit()
    {
        int permits = 0;
        int forced = 0;
        HallScript.Gen(requests: true, forces: true).Sample(
            script =>
            {
                using var folder = new TempFolder();
                SiteTable site = HallScript.Site();
                List<byte[]> lived = Live(script, site, folder, ref permits, ref forced);
                Assert.Equal(lived, Replay(site, folder));
            },
            iter: 40,
            threads: 1);
        Assert.True(permits > 0, "no life ever reached a permit: the comparison would be of idle units only");
        Assert.True(forced > 1_000, "hardly any scan had a forced value");
    }

    // A run that went on from counters and a learnt loss replays only from the same ones: they are an input of its first scan.
    [Trait("requirement", "KEEP-3")]
    [Fact]
    public void A_run_that_went_on_from_kept_figures_replays_from_its_recording_alone()
    {
        using var folder = new TempFolder();
        SiteTable site = HallScript.Site();
        KeptRecord[] kept = [.. site.Units.Select(static u => new KeptRecord { Site = "test", Unit = u.Name, TripCount = 7, LastTrip = FunctionId.Flow })];
        int permits = 0;
        int forced = 0;
        List<byte[]> lived = Live(null, site, folder, ref permits, ref forced, kept);
        Assert.Equal(lived, Replay(site, folder));
        Assert.NotEqual(lived, Replay(site, folder, fresh: true));
    }

    [Fact]
    public void A_replay_with_one_word_changed_decides_otherwise_from_that_scan_on()
    {
        using var folder = new TempFolder();
        SiteTable site = HallScript.Site();
        int permits = 0;
        int forced = 0;
        List<byte[]> lived = Live(null, site, folder, ref permits, ref forced);
        List<byte[]> replayed = Replay(site, folder, scan => scan.Blocks[2].Words[0] ^= scan.Scan == 20 ? (ushort)1 : (ushort)0);
        Assert.Equal(lived[..20], replayed[..20]);
        Assert.NotEqual(lived[20], replayed[20]);
    }

    private static List<byte[]> Live(HallScript? script, SiteTable site, TempFolder folder, ref int permits, ref int forced, params KeptRecord[] kept)
    {
        var lived = new List<byte[]>();
        int seen = 0;
        int seenForced = 0;
        using var bytes = new DecisionBytes();
        using (var tail = new RawTail(Options(site, folder, kept)))
        {
            tail.Start();
            var hall = new TestHall(site, [.. kept.Select(static k => k.ToFigures())]);
            hall.AfterStep = h =>
            {
                Assert.True(SpinWait.SpinUntil(() => tail.TryRecord(h.Scan), 60_000));
                lived.Add(bytes.Of(h.Output));
                seen += h[0].Permit || h[1].Permit ? 1 : 0;
                seenForced += h.Output.Units.Any(u => u.Forced.Any(f => f.Active)) ? 1 : 0;
            };
            hall.BringTo(0, UnitState.Heating);
            script?.Live(hall);
        }

        permits += seen;
        forced += seenForced;
        return lived;
    }

    private static List<byte[]> Replay(SiteTable site, TempFolder folder, Action<RawScan>? change = null, bool fresh = false)
    {
        var replayed = new List<byte[]>();
        var output = new ScanOutput(site.Units.Count);
        using var bytes = new DecisionBytes();
        using var reader = new RawTailReader(Assert.Single(RawTailFolder.List(folder.Path)));
        var guard = new Guard(site, fresh ? null : [.. KeptCodec.ReadMany(reader.Header.Kept.Span).Select(static k => k.ToFigures())]);
        while (reader.Read() == RawTailOutcome.Good)
        {
            change?.Invoke(reader.Scan);
            guard.Step(reader.Scan, output);
            replayed.Add(bytes.Of(output));
        }

        return replayed;
    }

    private static RawTailOptions Options(SiteTable site, TempFolder folder, KeptRecord[] kept) => new()
    {
        Folder = folder.Path,
        Slots = 4096,
        Header = new RawTailHeader { RunId = "lived", SiteDigest = new byte[32], UnitCount = site.Units.Count, BlockWordCounts = site.BlockWordCounts, Kept = Texts(kept) },
    };

    private static byte[] Texts(KeptRecord[] kept)
    {
        var codec = new KeptCodec();
        return [.. kept.SelectMany(k =>
        {
            codec.Write(k);
            return codec.Written.ToArray();
        })];
    }

    /// <summary>Every figure of an output as bytes; doubles by their bits, so that NaN equals NaN and −0 differs from 0.</summary>
    private sealed class DecisionBytes : IDisposable
    {
        private readonly MemoryStream _stream = new();
        private readonly BinaryWriter _to;

        public DecisionBytes() => _to = new BinaryWriter(_stream);

        public byte[] Of(ScanOutput output)
        {
            _stream.SetLength(0);
            _to.Write(output.Scan);
            _to.Write(output.SitePowerKw);
            foreach (GuardEvent e in output.Events.AsSpan(0, output.EventCount))
            {
                _to.Write(e.Sequence);
                _to.Write(e.Scan);
                _to.Write(e.UtcUnixMs);
                _to.Write(((e.Unit * 1000L) + (int)e.Id) * 1000 + ((int)e.Function * 20) + (int)e.Reason);
                _to.Write(e.Value);
                _to.Write(e.Limit);
                _to.Write(e.Detail);
            }

            foreach (UnitDecision unit in output.Units)
            {
                Add(unit);
            }

            return System.Security.Cryptography.SHA256.HashData(_stream.ToArray());
        }

        public void Dispose() => _to.Dispose();

        private void Add(UnitDecision unit)
        {
            _to.Write((byte)unit.State);
            _to.Write((byte)unit.FirstOut);
            _to.Write(unit.Permit);
            _to.Write(unit.PendingDurable);
            _to.Write(unit.RampHeld);
            _to.Write(unit.PowerProvedOff);
            _to.Write(unit.LedSetpointC);
            _to.Write(unit.ElementSlopeKPerMin);
            _to.Write(unit.CoolSlopeKPerMin);
            _to.Write(unit.FunctionsEvaluated);
            _to.Write(unit.TripCount);
            _to.Write((byte)unit.LastTrip);
            _to.Write(unit.Loss.KwPerK);
            foreach (FunctionStatus function in unit.Functions)
            {
                _to.Write((byte)function.State);
                _to.Write(function.Value);
                _to.Write(function.Limit);
                _to.Write(function.SinceScan);
            }

            foreach (CommandDecision command in unit.Commands)
            {
                _to.Write(command.Value);
                _to.Write(command.Write);
                _to.Write(command.DeEnergising);
            }

            for (int i = 0; i < SignalRoles.Count; i++)
            {
                Add(unit.Image[(SignalRole)i]);
                Add(unit.RealOf((SignalRole)i));
            }

            foreach (ForcedSignal forced in unit.Forced)
            {
                _to.Write(forced.Active);
                _to.Write((byte)forced.Role);
                _to.Write(forced.SecondsLeft);
                _to.Write(forced.Demands);
            }
        }

        private void Add(in SignalValue signal)
        {
            _to.Write(signal.Value);
            _to.Write(signal.Status);
            _to.Write(signal.AgeMs);
            _to.Write(signal.Known);
        }
    }
}
