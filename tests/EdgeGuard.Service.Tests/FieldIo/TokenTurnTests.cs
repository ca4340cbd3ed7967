using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>
/// Four units on one slow link, the permit token of each offered anew in each scan: every cabinet must see its token
/// change within its watchdog time, however long a round takes. Time is simulated, one transaction after the other.
/// </summary>
public sealed class TokenTurnTests
{
    private const int Units = 4;
    private const int ScanMs = 100;
    private const int PollLeadMs = 50;
    private const int WatchdogMs = 1_000; // ten scans, as the virtual cabinet has it
    private const int RunMs = 60_000;

    [Theory]
    [InlineData(20)]
    [InlineData(25)] // A round of four requests takes one scan exactly.
    [InlineData(26)]
    [InlineData(50)] // Two scans.
    [InlineData(75)]
    public void Every_token_is_renewed_within_the_watchdog_time_on_a_slow_link(int transactionMs)
    {
        var clock = new ReadClock();
        var link = new FakeLink();
        using var worker = new LinkWorker(new LinkEngine(Table(), link, clock), clock, new QuietObserver(), conducted: false);
        long startUs = clock.NowUs;
        long endUs = startUs + (RunMs * 1000L);
        long nextScanUs = startUs;
        long[] renewedUs = [startUs, startUs, startUs, startUs];
        long[] longestUs = new long[Units];
        using var ended = new ManualResetEventSlim();
        ushort token = 0;
        link.Fault = line =>
        {
            clock.AdvanceMs(transactionMs);
            long nowUs = clock.NowUs;
            if (nowUs >= endUs)
            {
                ended.Set();
                return null;
            }

            if (line.StartsWith("write", StringComparison.Ordinal))
            {
                int unit = line["write ".Length] - '1';
                longestUs[unit] = Math.Max(longestUs[unit], nowUs - renewedUs[unit]);
                renewedUs[unit] = nowUs;
            }

            for (; nextScanUs <= nowUs; nextScanUs += ScanMs * 1000L)
            {
                token++;
                foreach (CommandSlot slot in worker.Engine.Commands)
                {
                    slot.Offer(token, twoWords: false, deEnergising: false);
                }
            }

            return null;
        };

        // The first poll is due a moment after the request that proves the link: a wait of the worker is one of real time.
        worker.Start(startUs + ((transactionMs + PollLeadMs + 1) * 1000L));
        Assert.True(ended.Wait(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken), "the run did not end");
        worker.Stop(limitMs: 10_000);
        for (int unit = 0; unit < Units; unit++)
        {
            long longest = Math.Max(longestUs[unit], endUs - renewedUs[unit]);
            Assert.True(longest < WatchdogMs * 1000L, $"unit {unit}: {longest / 1000} ms without a new token");
        }
    }

    private static LinkTable Table() => FieldTables.Link() with
    {
        ScanMs = ScanMs,
        PollLeadMs = PollLeadMs,
        Polls = [.. Enumerable.Range(0, Units).Select(static i => new PollRequestTable { Block = i, UnitId = (byte)(i + 1), Table = ModbusTable.HoldingRegisters, Address = 0, Count = 4 })],
        Writes = [.. Enumerable.Range(0, Units).Select(static i => new WritePointTable
        {
            Unit = i,
            Role = CommandRole.Heartbeat,
            UnitId = (byte)(i + 1),
            Table = ModbusTable.HoldingRegisters,
            Address = 0,
            Type = WordType.UInt16,
            Order = WordOrder.Abcd,
            Scale = 1,
        })],
    };

    /// <summary>Each look at it takes a moment, so that a worker without work comes to its next round.</summary>
    private sealed class ReadClock : FieldClock
    {
        private long _nowUs = 1_000_000;

        public override long NowUs => Interlocked.Add(ref _nowUs, 50);

        public void AdvanceMs(int ms) => Interlocked.Add(ref _nowUs, ms * 1000L);
    }
}
