using System.Diagnostics;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Rtu;

/// <summary>
/// Answers that are owed longer than one request: RTU frames carry no transaction id (Serial Line V1.02, 2.3), so only
/// distance keeps one that could fit from being taken for that of a later request.
/// </summary>
public sealed class RtuOwedAnswerTests : IDisposable
{
    private readonly RtuClientEngine _engine = new();
    private readonly FakeLine _line = new();
    private readonly ushort[] _words = new ushort[2];
    private SerialModbusLink? _link;

    public void Dispose() => _link?.Dispose();

    [Theory]
    [InlineData(ModbusTable.HoldingRegisters, 5)]
    [InlineData(ModbusTable.InputRegisters, 2)]
    public void A_second_request_without_an_answer_does_not_make_the_first_be_forgotten(ModbusTable table, int quantity)
    {
        Miss(ModbusTable.HoldingRegisters, 16, 2);
        Miss(table, 0, quantity);
        _engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 32, 2);
        Assert.True(_engine.MustKeepDistance);

        // Nor does it bind another unit, or a request that nothing owed could be taken for.
        _engine.Withdraw(ModbusOutcome.Timeout);
        _engine.BeginReadRegisters(2, ModbusTable.HoldingRegisters, 32, 2);
        Assert.False(_engine.MustKeepDistance);
        _engine.Withdraw(ModbusOutcome.Timeout);
        _engine.BeginWriteRegister(1, 0, 0);
        Assert.False(_engine.MustKeepDistance);
    }

    [Fact]
    public void An_answer_ends_what_was_owed_before_it_since_devices_answer_in_turn()
    {
        Miss(ModbusTable.HoldingRegisters, 16, 2);
        Miss(ModbusTable.HoldingRegisters, 0, 5);
        _engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 32, 1);
        Assert.Equal(ClientStatus.Completed, _engine.Take(RtuFrame.Of(1, "03 02 00 09"), _words, out _));
        _engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 32, 2);
        Assert.False(_engine.MustKeepDistance);
    }

    [Fact]
    public void An_exception_that_may_be_the_late_answer_leaves_the_other_owed()
    {
        Miss(ModbusTable.HoldingRegisters, 16, 2);
        _engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 32, 1);
        Assert.Equal(ClientStatus.Completed, _engine.Take(RtuFrame.Of(1, "83 06"), _words, out _));
        Assert.Equal(ModbusOutcome.DeviceException, _engine.Result.Outcome);
        _engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 48, 1);
        Assert.True(_engine.MustKeepDistance);
    }

    [Fact]
    public void After_such_an_exception_the_link_keeps_its_distance_and_register_48_does_not_get_the_value_of_32()
    {
        _line.OnWrite = (line, request) =>
        {
            switch (request[3])
            {
                case 32:
                    line.Queue(0, RtuFrame.Of(1, "83 06")); // to the request before
                    line.Queue(150, RtuFrame.Of(1, "03 02 AA AA"));
                    break;
                case 48:
                    line.Queue(0, RtuFrame.Of(1, "03 02 00 09"));
                    break;
                default:
                    break;
            }
        };
        SerialModbusLink link = Open(guardMs: 300);
        Assert.Equal(ModbusOutcome.Timeout, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, _words, 50).Outcome);
        Thread.Sleep(320); // its own distance is over
        Assert.Equal(ModbusOutcome.DeviceException, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 32, _words.AsSpan(0, 1), 400).Outcome);
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 48, _words.AsSpan(0, 1), 2_000).IsGood);
        Assert.Equal(9, _words[0]);
    }

    [Theory]
    [InlineData("00 00")] // no function of the protocol: known at once as no frame
    [InlineData("FF FF FF FF FF")] // the length of an exception, with a wrong CRC
    [InlineData("00 01 00 00 00")] // of another unit
    [InlineData("01 05 00 00 00 00 00 00")] // of another function
    public void Bytes_that_were_no_frame_in_front_of_an_answer_leave_it_owed_and_the_next_register_does_not_get_it(string noise)
    {
        // What a line without bias says when the driver of the master lets go of it.
        _line.OnWrite = (line, request) =>
        {
            if (request[3] == 16)
            {
                line.Queue(0, Hex.Bytes(noise));
                line.Queue(120, RtuFrame.Of(1, "03 04 AA AA AA AA"));
            }
            else
            {
                line.Queue(0, RtuFrame.Of(1, "03 04 00 05 00 06"));
            }
        };
        SerialModbusLink link = Open(guardMs: 300);
        Assert.Equal(ModbusOutcome.BadAnswer, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, _words, 1_000).Outcome);
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 32, _words, 2_000).IsGood);
        Assert.Equal([5, 6], _words);
    }

    [Fact]
    public void The_answer_itself_with_a_wrong_CRC_has_come_and_the_next_read_need_not_wait()
    {
        _engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 16, 2);
        byte[] disturbed = RtuFrame.Of(1, "03 04 AA AA AA AA");
        disturbed[4] ^= 1;
        Assert.Equal(ClientStatus.Broken, _engine.Take(disturbed, _words, out _));
        _engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 32, 2);
        Assert.False(_engine.MustKeepDistance);
    }

    [Fact]
    public void A_line_that_is_closed_and_opened_again_may_still_bring_the_answer()
    {
        _line.OnWrite = (line, request) =>
        {
            if (request[3] == 32)
            {
                line.Queue(0, RtuFrame.Of(1, "03 04 00 05 00 06"));
            }
        };
        SerialModbusLink link = Open(guardMs: 300);
        Assert.Equal(ModbusOutcome.Timeout, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, _words, 50).Outcome);
        link.Close();
        link.Connect(1_000);
        _line.Queue(100, RtuFrame.Of(1, "03 04 AA AA AA AA"));
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 32, _words, 2_000).IsGood);
        Assert.Equal([5, 6], _words);
    }

    [Fact]
    public void So_may_one_that_was_lost_while_the_answer_was_waited_for()
    {
        _line.OnWrite = (line, request) =>
        {
            line.IsLost = request[3] == 16;
            if (request[3] == 32)
            {
                line.Queue(0, RtuFrame.Of(1, "03 04 00 05 00 06"));
            }
        };
        SerialModbusLink link = Open(guardMs: 300);
        Assert.Equal(ModbusOutcome.ConnectionLost, link.ReadRegisters(1, ModbusTable.HoldingRegisters, 16, _words, 1_000).Outcome);
        _line.IsLost = false;
        link.Connect(1_000);
        long begun = Stopwatch.GetTimestamp();
        _line.Queue(100, RtuFrame.Of(1, "03 04 AA AA AA AA"));
        Assert.True(link.ReadRegisters(1, ModbusTable.HoldingRegisters, 32, _words, 2_000).IsGood);
        Assert.Equal([5, 6], _words);
        Assert.InRange(Stopwatch.GetElapsedTime(begun).TotalMilliseconds, 100, 1_900);
    }

    private void Miss(ModbusTable table, ushort address, int quantity)
    {
        _engine.BeginReadRegisters(1, table, address, quantity);
        _engine.Abandon(ModbusOutcome.Timeout);
    }

    private SerialModbusLink Open(int guardMs)
    {
        _link = new SerialModbusLink(new SerialLineOptions { PortName = "memory" }, _line, new RtuLinkOptions { LateAnswerGuardMs = guardMs });
        _link.Connect(1_000);
        return _link;
    }
}
