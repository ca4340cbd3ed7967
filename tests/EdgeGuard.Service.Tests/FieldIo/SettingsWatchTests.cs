using EdgeGuard.Core.Signals;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

/// <summary>Settings of a device against their snapshot, as the link does it.</summary>
public sealed class SettingsWatchTests
{
    private readonly FakeLink _link = new();
    private readonly ManualClock _clock = new();

    [Fact]
    public void At_each_connect_every_setting_is_read_before_the_verdict_counts()
    {
        LinkEngine engine = Engine();
        Commissioned();
        engine.ConnectAndProve();
        Assert.Equal(["connect", "read 1:0+4", "read 1:20+1", "read 1:30+2"], _link.Log);
        Assert.Equal((ReadResult.Good, 1), Verdict(engine));
        Assert.False(engine.News.TryTake(out _, out _));
    }

    [Fact]
    public void A_connect_compares_for_one_scan_and_the_rounds_go_on_so_that_polls_and_tokens_do_not_wait()
    {
        LinkEngine engine = Engine();
        Commissioned();
        _link.Fault = _ =>
        {
            _clock.AdvanceMs(FieldTables.ScanMs);
            return null;
        };
        engine.ConnectAndProve();
        Assert.Equal(["connect", "read 1:0+4", "read 1:20+1"], _link.Log);
        Assert.Equal(ReadResult.NeverRead, Verdict(engine).Result);
        engine.PollAll();
        Assert.Equal(["read 1:0+4", "read 1:30+2"], _link.Log.Skip(3));
        Assert.Equal((ReadResult.Good, 1), Verdict(engine));
    }

    [Fact]
    public void A_difference_is_a_verdict_of_zero_and_a_sentence_with_both_readings_told_once()
    {
        LinkEngine engine = Engine();
        Commissioned();
        _link.Registers[20] = 5;
        engine.ConnectAndProve();
        Assert.Equal((ReadResult.Good, 0), Verdict(engine));
        Assert.True(engine.News.TryTake(out ShellEventId id, out string? news));
        Assert.Equal((ShellEventId.SettingsDiffer, "c1: settings differ from what was commissioned: input-type is 5, was 3"), (id, news));
        engine.PollAll();
        Assert.False(engine.News.TryTake(out _, out _));
    }

    [Fact]
    public void The_verdict_is_as_old_as_the_latest_answer_and_gone_with_the_link()
    {
        LinkEngine engine = Engine();
        Commissioned();
        engine.ConnectAndProve();
        _clock.AdvanceMs(500);
        engine.PollAll();
        Assert.Equal(_clock.NowUs, engine.Settings.Facts[0].Take().SentUs);
        uint reads = engine.Settings.Facts[0].Take().ReadCount;
        engine.Fail(-1, ReadResult.NotConnected);
        Assert.Equal(ReadResult.NotConnected, engine.Settings.Facts[0].Take().Result);
        Assert.Equal(reads, engine.Settings.Facts[0].Take().ReadCount);
        _link.Registers[31] = 9;
        engine.ConnectAndProve();
        Assert.Equal((ReadResult.Good, 0), Verdict(engine));
    }

    [Fact]
    public void A_change_without_a_lost_connection_is_found_within_the_minute_and_so_is_its_end()
    {
        LinkEngine engine = Engine();
        Commissioned();
        engine.ConnectAndProve();
        _link.Registers[20] = 5;
        _link.ClearLog();
        Rounds(engine, 590);
        Assert.DoesNotContain("read 1:20+1", _link.Log);
        Rounds(engine, 20);
        Assert.Equal((ReadResult.Good, 0), Verdict(engine));
        Commissioned();
        Rounds(engine, 610);
        Assert.Equal((ReadResult.Good, 1), Verdict(engine));
        Assert.True(engine.News.TryTake(out ShellEventId first, out _));
        Assert.True(engine.News.TryTake(out ShellEventId second, out _));
        Assert.Equal((ShellEventId.SettingsDiffer, ShellEventId.SettingsAgree), (first, second));
        Assert.Equal(4, _link.Log.Count(l => l is "read 1:20+1" or "read 1:30+2"));
    }

    [Fact]
    public void Bits_of_the_register_that_are_not_the_setting_may_change()
    {
        LinkTable table = Table(1, [3]);
        SettingsTable settings = table.Settings[0];
        var engine = new LinkEngine(table with { Settings = [settings with { Points = [settings.Points[0] with { Mask = 0x000F }] }] }, _link, _clock);
        _link.Registers[20] = 0xFF03;
        engine.ConnectAndProve();
        Assert.Equal((ReadResult.Good, 1), Verdict(engine));
        engine.Fail(-1, ReadResult.NotConnected);
        _link.Registers[20] = 0xFF07;
        engine.ConnectAndProve();
        Assert.Equal((ReadResult.Good, 0), Verdict(engine));
    }

    [Fact]
    public void A_setting_that_cannot_be_read_leaves_no_verdict()
    {
        LinkEngine engine = Engine();
        Commissioned();
        _link.Fault = l => l == "read 1:30+2" ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress) : null;
        engine.ConnectAndProve();
        Rounds(engine, 10);
        Assert.Equal(ReadResult.NeverRead, engine.Settings.Facts[0].Take().Result);
        Assert.True(engine.IsOnline);
        _link.Fault = static _ => null;
        Rounds(engine, 1);
        Assert.Equal((ReadResult.Good, 1), Verdict(engine));
    }

    [Fact]
    public void A_device_that_was_silent_on_an_open_line_is_compared_again_before_its_verdict_counts()
    {
        LinkEngine engine = Engine(devices: 2);
        _link.StaysOpen = true;
        Commissioned();
        engine.ConnectAndProve();
        Rounds(engine, 1);
        uint before = engine.Settings.Facts[0].Take().ReadCount;
        _link.Fault = l => l.StartsWith("read 1:", StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.Timeout) : null;
        Rounds(engine, 4);
        Assert.True(engine.IsOnline);
        _link.Registers[20] = 5;
        _link.Fault = static _ => null;
        Rounds(engine, 30);
        Assert.Equal((ReadResult.Good, 0), Verdict(engine));
        Assert.True(engine.Settings.Facts[0].Take().ReadCount > before);
    }

    [Fact]
    public void A_device_whose_gateway_said_it_was_silent_is_compared_again_before_its_verdict_counts()
    {
        LinkEngine engine = Engine(devices: 2);
        Commissioned();
        engine.ConnectAndProve();
        Rounds(engine, 1);
        uint before = engine.Settings.Facts[0].Take().ReadCount;
        _link.Fault = l => l.StartsWith("read 1:", StringComparison.Ordinal)
            ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.GatewayTargetFailedToRespond)
            : null;
        Rounds(engine, 4);
        Assert.True(engine.IsOnline);
        Assert.Equal(before + 1, engine.Settings.Facts[0].Take().ReadCount); // one answer missing is not yet a device that was away
        _link.Registers[20] = 5;
        _link.Fault = static _ => null;
        Rounds(engine, 10);
        Assert.Equal((ReadResult.Good, 0), Verdict(engine));
    }

    [Fact]
    public void After_a_lost_connection_no_verdict_counts_before_every_setting_is_read_again_even_where_that_takes_rounds()
    {
        LinkEngine engine = Engine();
        Commissioned();
        engine.ConnectAndProve();
        Rounds(engine, 1);
        engine.Fail(-1, ReadResult.NotConnected);
        _link.Registers[31] = 9;
        _link.Fault = _ =>
        {
            _clock.AdvanceMs(FieldTables.ScanMs); // the connect has time for the first setting only
            return null;
        };
        engine.ConnectAndProve();
        Assert.Equal(ReadResult.NotConnected, Verdict(engine).Result);
        engine.PollAll();
        Assert.Equal((ReadResult.Good, 0), Verdict(engine));
    }

    [Fact]
    public void A_setting_that_can_never_be_read_does_not_keep_a_change_of_another_device_from_being_seen()
    {
        LinkEngine engine = TwoDevices();
        _link.Fault = l => l == "read 1:20+1" ? new ModbusResult(ModbusOutcome.DeviceException, ModbusExceptionCode.IllegalDataAddress) : null;
        engine.ConnectAndProve();
        Rounds(engine, 10);
        Assert.Equal((ReadResult.Good, 1), Verdict(engine, 1));
        _link.Registers[30] = 7;
        Rounds(engine, 1_300);
        Assert.Equal((ReadResult.Good, 0), Verdict(engine, 1));
    }

    [Fact]
    public void A_device_that_stays_silent_on_an_open_line_does_not_either()
    {
        LinkEngine engine = TwoDevices();
        _link.StaysOpen = true;
        engine.ConnectAndProve();
        _link.Fault = l => l.StartsWith("read 1:", StringComparison.Ordinal) ? new ModbusResult(ModbusOutcome.Timeout) : null;
        Rounds(engine, 10);
        _link.Registers[30] = 7;
        Rounds(engine, 1_300);
        Assert.Equal((ReadResult.Good, 0), Verdict(engine, 1));
    }

    [Fact]
    public void A_removal_goes_before_the_next_setting()
    {
        LinkEngine engine = Engine();
        Commissioned();
        _link.Fault = l =>
        {
            if (l == "read 1:20+1")
            {
                engine.Commands[1].Offer(0, twoWords: false, deEnergising: true);
            }

            return null;
        };
        engine.ConnectAndProve();
        Assert.Equal(["connect", "read 1:0+4", "read 1:20+1", "write 1:1=0", "read 1:30+2"], _link.Log);
    }

    [Fact]
    public void A_removal_offered_during_the_last_poll_of_a_round_goes_before_the_setting_of_that_round()
    {
        LinkEngine engine = Engine();
        Commissioned();
        _link.Fault = l =>
        {
            _clock.AdvanceMs(FieldTables.ScanMs); // so that the connect leaves a setting to the first round
            return null;
        };
        engine.ConnectAndProve();
        _link.ClearLog();
        _link.Fault = l =>
        {
            if (l == "read 1:0+4")
            {
                engine.Commands[1].Offer(0, twoWords: false, deEnergising: true);
            }

            return null;
        };
        engine.PollAll();
        Assert.Equal(["read 1:0+4", "write 1:1=0", "read 1:30+2"], _link.Log);
    }

    [Fact]
    public void Comparing_and_publishing_allocate_nothing_while_all_agree()
    {
        var engine = new LinkEngine(Table(1, commissioned: [0]), new SilentLink(), _clock);
        engine.ConnectAndProve();
        Rounds(engine, 2);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Rounds(engine, 2_000);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private void Rounds(LinkEngine engine, int rounds)
    {
        for (int i = 0; i < rounds; i++)
        {
            _clock.AdvanceMs(100);
            engine.PollAll();
        }
    }

    private static (ReadResult Result, int Verdict) Verdict(LinkEngine engine, int device = 0)
    {
        BlockReading reading = engine.Settings.Facts[device].Take();
        return (reading.Result, reading.Words[0]);
    }

    private void Commissioned()
    {
        _link.Registers[20] = 3;
        _link.Registers[30] = 0x4489;
        _link.Registers[31] = 0x8000;
    }

    private LinkEngine Engine(int devices = 1) => new(Table(devices, [3]), _link, _clock);

    /// <summary>One setting in each of two devices, both as commissioned.</summary>
    private LinkEngine TwoDevices()
    {
        _link.Registers[20] = 3;
        _link.Registers[30] = 4;
        LinkTable table = Table(2, [3]);
        SettingsTable own = table.Settings[0];
        return new LinkEngine(
            table with
            {
                Settings = [own with { Points = [Point("input-type", 20, [3])] }, own with { Block = 3, Device = "c2", UnitId = 2, Points = [Point("range", 30, [4])] }],
            },
            _link,
            _clock);
    }

    private static LinkTable Table(int devices, ushort[] commissioned)
    {
        LinkTable table = FieldTables.Link();
        bool silent = commissioned[0] == 0;
        return table with
        {
            Polls = devices == 1 ? [table.Polls[0]] : [table.Polls[0], table.Polls[0] with { Block = 1, UnitId = 2 }],
            Settings =
            [
                new SettingsTable
                {
                    Block = 2,
                    Device = "c1",
                    UnitId = 1,
                    Points = [Point("input-type", 20, commissioned), Point("range", 30, silent ? [0, 0] : [0x4489, 0x8000])],
                },
            ],
        };
    }

    private static SettingPoint Point(string name, ushort address, ushort[] commissioned) => new()
    {
        Name = name,
        Table = ModbusTable.HoldingRegisters,
        Address = address,
        Count = commissioned.Length,
        Commissioned = commissioned,
        Reading = static words => string.Join(' ', words),
    };
}
