using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Tests.FieldIo;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>What a link has been through, as the scan thread hands it to the ring.</summary>
public sealed class LinkCopiesTests : IDisposable
{
    private readonly CountingLink _link = new();
    private readonly ManualClock _clock = new();
    private readonly LinkWorker _worker;
    private readonly LinkCopies _copies;

    public LinkCopiesTests()
    {
        _worker = new LinkWorker(new LinkEngine(FieldTables.Link(), _link, _clock), _clock, new QuietObserver(), conducted: true);
        _copies = new LinkCopies([_worker]);
    }

    [Fact]
    public void Every_figure_of_a_link_is_handed_on()
    {
        LinkEngine engine = _worker.Engine;
        Assert.Equal([engine.Table.Name], _copies.Names);
        Assert.False(_copies.Collect()[0].IsUp);
        engine.ConnectAndProve();
        _link.Fault = line =>
        {
            _clock.AdvanceMs(3);
            return line == "read 1:0+4" ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress) : null;
        };
        engine.PollAll();
        engine.Counters.CountPollOverruns(4);
        engine.Counters.CountFault();
        ScanRingLink link = _copies.Collect()[0];
        Assert.True(link.IsUp);
        Assert.Equal((3L, 2L, 1L), (link.Requests, link.Answers, link.Exceptions));
        Assert.Equal((6L, 7L), (link.LateAnswers, link.ChecksumErrors));
        Assert.Equal((1L, 0L, 4L, 1L), (link.Connects, link.Losses, link.PollOverruns, link.Faults));
        Assert.Equal((3_000L, 3_000L), (link.RoundTripLastUs, link.RoundTripMaxUs));

        engine.Commands[0].Offer(41, twoWords: false, deEnergising: false);
        engine.Commands[1].Offer(1, twoWords: false, deEnergising: false);
        _link.Fault = static _ => new ModbusResult(ModbusOutcome.Timeout);
        engine.ServeOneEnergising();
        link = _copies.Collect()[0];
        Assert.False(link.IsUp);
        Assert.Equal((1L, 1L, 1L, 1L), (link.Timeouts, link.FailedWrites, link.DroppedWrites, link.Losses));
        Assert.Equal((4L, 2L, 0L), (link.Requests, link.Answers, link.BadAnswers));
    }

    [Fact]
    public void No_figure_stands_in_the_place_of_another()
    {
        LinkFigures figures = _worker.Engine.Counters;
        Times(2, () => figures.CountRead(good: true));
        Times(3, () => figures.CountRead(good: false));
        Times(4, () => figures.CountWrite(new ModbusResult(ModbusOutcome.Good)));
        Times(5, () => figures.CountWrite(new ModbusResult(ModbusOutcome.Timeout)));
        Times(16, figures.CountDropped);
        Times(17, () => figures.CountFailure(ModbusOutcome.Timeout));
        Times(18, figures.CountConnect);
        Times(19, figures.CountLoss);
        figures.CountPollOverruns(20);
        Times(21, figures.CountFault);
        Times(22, figures.CountException);
        Times(23, () => figures.CountFailure(ModbusOutcome.BadAnswer));
        figures.NoteRoundTrip(ModbusOutcome.Good, 25);
        figures.NoteRoundTrip(ModbusOutcome.Good, 24);
        ScanRingLink link = _copies.Collect()[0];
        Assert.Equal((14L, 6L, 5L), (link.Requests, link.Answers, link.FailedWrites));
        Assert.Equal(
            [16, 17, 18, 19, 20, 21, 22, 23, 24, 25],
            [link.DroppedWrites, link.Timeouts, link.Connects, link.Losses, link.PollOverruns, link.Faults, link.Exceptions, link.BadAnswers, link.RoundTripLastUs, link.RoundTripMaxUs]);
    }

    [Fact]
    public void Handing_on_allocates_nothing()
    {
        _copies.Collect();
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 10_000; i++)
        {
            _copies.Collect();
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    public void Dispose() => _worker.Dispose();

    private static void Times(int count, Action act)
    {
        for (int i = 0; i < count; i++)
        {
            act();
        }
    }

    /// <summary>A link that counts on the wire, like those of this program.</summary>
    private sealed class CountingLink : FakeLink, IModbusDiagnosticLink
    {
        public LinkCounters Counters => new(9, 9, 9, 9, 9, 9, Late: 6, Reconnects: 9) { BadCrc = 7 };

        public AnswerFault LastFault => default;

        public ModbusResult ReadExceptionStatus(byte unitId, out ushort status, int timeoutMs) => throw new NotSupportedException();

        public ModbusResult ReturnQueryData(byte unitId, ushort data, int timeoutMs) => throw new NotSupportedException();

        public ModbusResult MaskWriteRegister(byte unitId, ushort address, ushort andMask, ushort orMask, int timeoutMs) => throw new NotSupportedException();

        public ModbusResult ReadWriteRegisters(byte unitId, ushort readAddress, Span<ushort> read, ushort writeAddress, ReadOnlySpan<ushort> written, int timeoutMs) => throw new NotSupportedException();

        public ModbusResult ReadDeviceIdentification(byte unitId, DeviceIdAccess access, byte objectId, int timeoutMs, out DeviceIdentification? identification) => throw new NotSupportedException();
    }
}
