using EdgeGuard.Modbus.Client;

namespace EdgeGuard.Modbus.Tests.Client;

public sealed class ClientEngineTests
{
    public static TheoryData<string> Names => [.. Misbehaviour.All.Select(m => m.Name)];

    [Trait("requirement", "MODB-3")]
    [Theory]
    [MemberData(nameof(Names))]
    public void A_misbehaving_peer_is_judged_as_the_table_says(string name)
    {
        Misbehaviour given = Misbehaviour.All.Single(m => m.Name == name);
        ClientEngine engine = new();
        ushort[] words = [0xDEAD, 0xDEAD];
        engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 16, 2);
        engine.Take(Hex.Bytes("00 01 00 00 00 07 01 03 04 00 00 00 00"), new ushort[2], out _);
        engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 16, 2);

        ClientFeed feed = new(engine);
        ClientStatus status = ClientStatus.None;
        foreach (string piece in given.Pieces)
        {
            status = feed.Give(Hex.Bytes(piece), words);
        }

        Assert.Equal((given.Status, given.Fault, given.LateCount), (status, engine.Fault, feed.LateCount));
        Assert.Equal(given.Status == ClientStatus.NeedMore, engine.IsPending);
        if (status != ClientStatus.NeedMore)
        {
            Assert.Equal(given.Outcome, engine.Result.Outcome);
        }

        // Only a good answer touches the values.
        Assert.Equal(given.Outcome == ModbusOutcome.Good ? [0x1122, 0x3344] : [0xDEAD, 0xDEAD], words);
    }

    [Fact]
    public void A_broken_stream_stays_broken_until_the_next_connection()
    {
        ClientEngine engine = new();
        engine.BeginReadRegisters(1, ModbusTable.InputRegisters, 0, 1);
        Assert.Equal(ClientStatus.Broken, engine.Take(Hex.Bytes("00 01 00 05"), default, out _));
        engine.BeginReadRegisters(1, ModbusTable.InputRegisters, 0, 1);
        Assert.Equal(ClientStatus.Broken, engine.Take(Hex.Frame(2, 1, 4, 2, 0, 1), new ushort[1], out int consumed));
        Assert.Equal(0, consumed);

        engine.Reset();
        engine.BeginReadRegisters(1, ModbusTable.InputRegisters, 0, 1);
        Assert.Equal(ClientStatus.Completed, engine.Take(Hex.Frame(3, 1, 4, 2, 0, 1), new ushort[1], out _));
    }

    [Trait("requirement", "MODB-2")]
    [Fact]
    public void The_answer_to_an_abandoned_request_is_late_and_not_that_of_the_next()
    {
        ClientEngine engine = new();
        ushort[] words = [0];
        engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 0, 1);
        engine.Abandon(ModbusOutcome.Timeout);
        Assert.Equal(ModbusOutcome.Timeout, engine.Result.Outcome);
        engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 0, 1);

        Assert.Equal(ClientStatus.LateDropped, engine.Take(Hex.Frame(1, 1, 3, 2, 0, 99), words, out _));
        Assert.Equal(ClientStatus.Completed, engine.Take(Hex.Frame(2, 1, 3, 2, 0, 5), words, out _));
        Assert.Equal(5, words[0]);
    }

    [Fact]
    public void A_late_answer_is_no_duplicate_and_its_second_copy_is_one()
    {
        ClientEngine engine = new();
        engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 0, 1);
        engine.Abandon(ModbusOutcome.Timeout);
        engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 0, 1);
        byte[] late = Hex.Frame(1, 1, 3, 2, 0, 99);
        Assert.Equal((ClientStatus.LateDropped, false), (engine.Take(late, default, out _), engine.WasDuplicate));
        Assert.Equal((ClientStatus.LateDropped, true), (engine.Take(late, default, out _), engine.WasDuplicate));
    }

    [Fact]
    public void An_answer_of_the_old_connection_breaks_the_new_one()
    {
        ClientEngine engine = new();
        engine.BeginWriteRegister(1, 0, 1);
        engine.Reset();
        engine.BeginWriteRegister(1, 0, 1);
        Assert.Equal(ClientStatus.Broken, engine.Take(Hex.Frame(1, 1, 6, 0, 0, 0, 1), default, out _));
        Assert.Equal(AnswerFault.TransactionId, engine.Fault);
    }

    [Theory]
    [InlineData("06 00 05 00 07", ModbusOutcome.Good)]
    [InlineData("06 00 05 00 08", ModbusOutcome.BadAnswer)] // a clamped value is not the one that was asked for
    [InlineData("06 00 06 00 07", ModbusOutcome.BadAnswer)]
    [InlineData("06 00 05 00", ModbusOutcome.BadAnswer)]
    [InlineData("06 00 05 00 07 00", ModbusOutcome.BadAnswer)]
    [InlineData("86 06", ModbusOutcome.DeviceException)]
    public void A_write_counts_only_with_its_exact_echo(string answer, ModbusOutcome outcome)
    {
        ClientEngine engine = new();
        engine.BeginWriteRegister(1, 5, 7);
        engine.Take(Hex.Frame(1, 1, Hex.Bytes(answer)), default, out _);
        Assert.Equal(outcome, engine.Result.Outcome);
    }

    [Theory]
    [InlineData("10 00 05 00 02", ModbusOutcome.Good)]
    [InlineData("10 00 05 00 01", ModbusOutcome.BadAnswer)]
    [InlineData("10 00 04 00 02", ModbusOutcome.BadAnswer)]
    public void A_write_of_many_counts_only_with_its_address_and_quantity(string answer, ModbusOutcome outcome)
    {
        ClientEngine engine = new();
        engine.BeginWriteRegisters(1, 5, [7, 8]);
        engine.Take(Hex.Frame(1, 1, Hex.Bytes(answer)), default, out _);
        Assert.Equal(outcome, engine.Result.Outcome);
    }

    [Fact]
    public void Transaction_ids_wrap_and_old_answers_stay_late()
    {
        ClientEngine engine = new();
        for (int i = 1; i <= 70_000; i++)
        {
            engine.BeginWriteCoil(1, 3, true);
            byte[] answer = Hex.Frame(i % 65536, 1, 5, 0, 3, 0xFF, 0);
            Assert.Equal(ClientStatus.Completed, engine.Take(answer, default, out _));
            Assert.Equal(ClientStatus.LateDropped, engine.Take(answer, default, out _)); // its duplicate
        }

        engine.BeginWriteCoil(1, 3, true);
        int lastId = 70_001 % 65536;
        Assert.Equal(ClientStatus.LateDropped, engine.Take(Hex.Frame(lastId - 1023, 1, 5, 0, 3, 0xFF, 0), default, out _));
        Assert.Equal(ClientStatus.Broken, engine.Take(Hex.Frame(lastId - 1024, 1, 5, 0, 3, 0xFF, 0), default, out _));
    }

    [Fact]
    public void Wrong_use_is_refused_before_anything_is_sent()
    {
        ClientEngine engine = new();
        Assert.Throws<ArgumentOutOfRangeException>(() => engine.BeginReadRegisters(1, ModbusTable.Coils, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => engine.BeginReadRegisters(1, ModbusTable.None, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => engine.BeginReadRegisters(1, ModbusTable.HoldingRegisters, 0, 126));
        Assert.Throws<ArgumentOutOfRangeException>(() => engine.BeginReadBits(1, ModbusTable.InputRegisters, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => engine.BeginReadBits(1, ModbusTable.Coils, 0, 2001));
        Assert.Throws<ArgumentOutOfRangeException>(() => engine.BeginWriteRegisters(1, 0, new ushort[124]));
        Assert.Throws<ArgumentOutOfRangeException>(() => engine.BeginWriteRegisters(1, 0, []));
        Assert.Throws<ArgumentOutOfRangeException>(() => engine.BeginWriteCoils(1, 0, new bool[1969]));
        Assert.False(engine.IsPending);
        engine.BeginWriteCoil(1, 0, false);
        Assert.Throws<InvalidOperationException>(() => engine.BeginWriteCoil(1, 0, false));
    }
}
