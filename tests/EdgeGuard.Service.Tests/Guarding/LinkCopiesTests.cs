using System.Globalization;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.FieldIo;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Tests.FieldIo;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>What a link has been through, as the scan thread hands it to the ring.</summary>
public sealed class LinkCopiesTests : IDisposable
{
    private readonly CountingLink _link = new();
    private readonly FakeLink _plain = new();
    private readonly ManualClock _clock = new();
    private readonly LinkWorker _worker;
    private readonly LinkCopies _copies;

    public LinkCopiesTests()
    {
        _worker = Worker(_link);
        _copies = new LinkCopies([_worker]);
    }

    [Fact]
    public void Every_figure_of_a_link_is_handed_on()
    {
        using LinkWorker worker = Worker(_plain);
        var copies = new LinkCopies([worker]);
        LinkEngine engine = worker.Engine;
        Assert.Equal([engine.Table.Name], copies.Names);
        Assert.False(copies.Collect()[0].IsUp);
        engine.ConnectAndProve();
        _plain.Fault = line =>
        {
            _clock.AdvanceMs(3);
            return line == "read 1:0+4" ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress) : null;
        };
        engine.PollAll();
        ScanRingLink link = copies.Collect()[0];
        Assert.True(link.IsUp);
        Assert.Equal("Requests 3, Answers 2, GoodReads 2, FailedReads 1, Exceptions 1, Connects 1, RoundTripLast 3000, RoundTripMax 3000", Text(link));

        engine.Commands[0].Offer(41, twoWords: false, deEnergising: false);
        engine.Commands[1].Offer(1, twoWords: false, deEnergising: false);
        _plain.Fault = static _ => new ModbusResult(ModbusOutcome.Timeout);
        engine.ServeOneEnergising();
        link = copies.Collect()[0];
        Assert.False(link.IsUp);
        Assert.Equal("Requests 4, Answers 2, GoodReads 2, FailedReads 1, FailedWrites 1, DroppedWrites 1, Exceptions 1, Timeouts 1, Connects 1, Losses 1, RoundTripLast 3000, RoundTripMax 3000", Text(link));
    }

    [Trait("requirement", "MODB-8")]
    [Fact]
    public void Every_counter_of_the_engine_stands_in_the_figure_of_its_name_and_no_figure_in_the_place_of_another()
    {
        string[] wire = Enum.GetNames<LinkCounter>();
        foreach (LinkFigure figure in Enum.GetValues<LinkFigure>().Where(f => !wire.Contains(f.ToString()) && f != LinkFigure.State))
        {
            _worker.Engine.Counters.Add(figure, 1_000 + (int)figure);
        }

        foreach (LinkCounter counter in Enum.GetValues<LinkCounter>())
        {
            _link.Counters.Add(counter, 2_000 + (int)counter);
        }

        ScanRingLink link = _copies.Collect()[0];
        foreach (LinkFigure figure in Enum.GetValues<LinkFigure>())
        {
            long expected = figure == LinkFigure.State ? 0 : Enum.TryParse(figure.ToString(), out LinkCounter counter) ? 2_000 + (int)counter : 1_000 + (int)figure;
            Assert.Equal((figure, expected), (figure, link[figure]));
        }
    }

    [Fact]
    public void What_went_over_the_wire_is_the_same_from_a_link_that_counts_and_from_one_that_does_not()
    {
        // The engine counts by outcome for the one; the other counts for itself.
        using LinkWorker plain = Worker(_plain);
        foreach (ModbusOutcome outcome in Enum.GetValues<ModbusOutcome>().Where(o => o != ModbusOutcome.BroadcastSent))
        {
            plain.Engine.Counters.AddRead(new ModbusResult(outcome));
            plain.Engine.Counters.AddWrite(new ModbusResult(outcome));
        }

        Assert.Equal("Requests 10, Answers 2, GoodReads 1, FailedReads 6, GoodWrites 1, FailedWrites 6, Exceptions 2, Timeouts 2, BadAnswers 2, BrokenRequests 2", Text(new LinkCopies([plain]).Collect()[0]));
    }

    [Fact]
    public void Renewals_that_wait_and_writes_that_are_not_sent_are_counted_by_the_scan()
    {
        using var bus = new FieldBus([Worker(_plain)], blockCount: 2, unitCount: 1);
        var copies = new LinkCopies(bus.Workers);
        var scan = new RawScan([4, 2], 1);
        CommandDecision token = FieldTables.Energise(5);
        CommandDecision removal = FieldTables.DeEnergise(0);
        bus.Offer(0, CommandRole.Heartbeat, token); // the link is down
        Assert.Equal("WithheldWrites 1", Text(copies.Collect()[0]));

        bus.Workers[0].Engine.ConnectAndProve();
        bus.Offer(0, CommandRole.Heartbeat, token);
        bus.Fill(scan, 0);
        bus.Fill(scan, 0);
        Assert.Equal((2L, 0L), (copies.Collect()[0][LinkFigure.HeldRenewals], copies.Collect()[0][LinkFigure.SupersededWrites]));
        bus.Offer(0, CommandRole.Heartbeat, token);
        Assert.Equal(1, copies.Collect()[0][LinkFigure.SupersededWrites]);
        bus.Offer(0, CommandRole.Heartbeat, removal);
        Assert.Equal((2L, 1L), (copies.Collect()[0][LinkFigure.SupersededWrites], copies.Collect()[0][LinkFigure.WithheldWrites]));
        bus.Offer(0, CommandRole.Heartbeat, token); // yields to the removal
        Assert.Equal((2L, 2L), (copies.Collect()[0][LinkFigure.SupersededWrites], copies.Collect()[0][LinkFigure.WithheldWrites]));
        bus.Workers[0].Engine.ServeDeEnergising();
        bus.Fill(scan, 0);
        Assert.Equal(2, copies.Collect()[0][LinkFigure.HeldRenewals]);
    }

    [Theory]
    [InlineData(LinkOpenFault.Refused, LinkFigure.RefusedConnects)]
    [InlineData(LinkOpenFault.TimedOut, LinkFigure.UnreachedConnects)]
    [InlineData(LinkOpenFault.Unreachable, LinkFigure.UnreachedConnects)]
    [InlineData(LinkOpenFault.Other, LinkFigure.FailedConnects)]
    [InlineData(LinkOpenFault.PortMissing, LinkFigure.FailedConnects)]
    [InlineData(LinkOpenFault.PortInUse, LinkFigure.FailedConnects)]
    [InlineData(LinkOpenFault.NoPermission, LinkFigure.FailedConnects)]
    [InlineData(LinkOpenFault.NotASerialPort, LinkFigure.FailedConnects)]
    [InlineData(LinkOpenFault.SettingsRefused, LinkFigure.FailedConnects)]
    [InlineData(LinkOpenFault.NotTrusted, LinkFigure.FailedConnects)]
    public void A_failed_attempt_to_open_is_counted_by_its_cause(LinkOpenFault fault, LinkFigure figure)
    {
        _plain.Opening = () => throw new LinkOpenException(fault, "not now");
        using LinkWorker worker = Worker(_plain);
        Assert.Throws<LinkOpenException>(worker.Engine.ConnectAndProve);
        Assert.Equal($"{figure} 1", Text(new LinkCopies([worker]).Collect()[0]));
    }

    [Fact]
    public void A_device_that_takes_the_connection_and_does_not_answer_is_counted_as_unproved()
    {
        _plain.Fault = static _ => new ModbusResult(ModbusOutcome.ConnectionLost);
        using LinkWorker worker = Worker(_plain);
        Assert.Throws<LinkFailedException>(worker.Engine.ConnectAndProve);
        ScanRingLink link = new LinkCopies([worker]).Collect()[0];
        Assert.Equal((1L, 0L), (link[LinkFigure.UnprovedConnects], link[LinkFigure.Connects]));
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

    private LinkWorker Worker(FakeLink link) => new(new LinkEngine(FieldTables.Link(), link, _clock), _clock, new QuietObserver(), conducted: true);

    private static string Text(ScanRingLink link) => string.Join(", ", Enum.GetValues<LinkFigure>()
        .Where(f => f != LinkFigure.State && link[f] != 0)
        .Select(f => string.Create(CultureInfo.InvariantCulture, $"{f} {link[f]}")));

    /// <summary>A link that counts on the wire, like those of this program.</summary>
    private sealed class CountingLink : FakeLink, IModbusDiagnosticLink
    {
        public LinkCounters Counters { get; } = new();

        public AnswerFault LastFault => default;

        public ModbusResult ReadExceptionStatus(byte unitId, out ushort status, int timeoutMs) => throw new NotSupportedException();

        public ModbusResult ReturnQueryData(byte unitId, ushort data, int timeoutMs) => throw new NotSupportedException();

        public ModbusResult MaskWriteRegister(byte unitId, ushort address, ushort andMask, ushort orMask, int timeoutMs) => throw new NotSupportedException();

        public ModbusResult ReadWriteRegisters(byte unitId, ushort readAddress, Span<ushort> read, ushort writeAddress, ReadOnlySpan<ushort> written, int timeoutMs) => throw new NotSupportedException();

        public ModbusResult ReadDeviceIdentification(byte unitId, DeviceIdAccess access, byte objectId, int timeoutMs, out DeviceIdentification? identification) => throw new NotSupportedException();
    }
}
