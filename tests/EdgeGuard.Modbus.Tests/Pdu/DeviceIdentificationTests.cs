using EdgeGuard.Modbus.Client;
using EdgeGuard.Modbus.Pdu;
using EdgeGuard.Modbus.Tests.Transports;
using EdgeGuard.Modbus.Transports;

namespace EdgeGuard.Modbus.Tests.Pdu;

/// <summary>Function 43, type 14. Rules of V1.1b3, 6.21, from memory where no example is printed.</summary>
public sealed class DeviceIdentificationTests
{
    private readonly DiagnosticMemoryDevice _device = new();

    [Fact]
    public void The_basic_objects_are_read_by_their_names()
    {
        DeviceIdentification read = Read(DeviceIdAccess.Basic, 0);
        Assert.Equal(0x81, read.Conformity);
        Assert.Equal(["Company identification", "Product code XX", "V2.11"], read.Objects.Select(o => o.Text));
        Assert.Equal(["vendor name", "product code", "revision"], read.Objects.Select(o => o.Name));
        Assert.Equal("V2.11", read[2]);
        Assert.Null(read[3]);
    }

    [Fact]
    public void A_stream_of_long_objects_goes_on_over_several_requests()
    {
        for (byte id = 3; id <= 6; id++)
        {
            _device.Objects[id] = [.. Enumerable.Repeat((byte)('a' + id), 200)];
        }

        DeviceIdentification read = Read(DeviceIdAccess.Regular, 0);
        Assert.Equal(0x82, read.Conformity);
        Assert.Equal([0, 1, 2, 3, 4, 5, 6], read.Objects.Select(o => o.Id));
        Assert.All(read.Objects.Skip(3), o => Assert.Equal(new string((char)('a' + o.Id), 200), o.Text));
    }

    [Fact]
    public void A_single_object_is_read_alone_and_an_unknown_one_is_exception_02()
    {
        Assert.Equal([new DeviceIdObject(1, "Product code XX")], Read(DeviceIdAccess.Individual, 1).Objects);
        Assert.Equal(ModbusExceptionCode.IllegalDataAddress, Exchange(DeviceIdAccess.Individual, 5, out _).Exception);
    }

    [Fact]
    public void More_than_the_device_has_is_answered_with_what_it_has()
    {
        Assert.Equal(3, Read(DeviceIdAccess.Extended, 0).Objects.Count);
        Assert.Equal(0, Read(DeviceIdAccess.Basic, 9).Objects[0].Id); // unknown start: from the beginning
        Assert.Equal(1, Read(DeviceIdAccess.Basic, 1).Objects[0].Id);
    }

    [Fact]
    public void An_object_longer_than_any_answer_is_a_failure_of_the_device()
    {
        _device.Objects[0] = new byte[245];
        Assert.Equal(ModbusExceptionCode.ServerDeviceFailure, Exchange(DeviceIdAccess.Basic, 0, out _).Exception);
        _device.Objects[0] = new byte[DeviceIdCodec.MaxObjectLength];
        Assert.Equal(new string('?', 244), Read(DeviceIdAccess.Individual, 0).Objects[0].Text); // not printable
    }

    [Theory]
    [InlineData("2B 0E 01 01 00 00 01 00 02 41 42", AnswerStatus.Ok)]
    [InlineData("2B 0E 01 01 00 00 00", AnswerStatus.Ok)]
    [InlineData("2B 0E 01 01 00 00", AnswerStatus.WrongLength)]
    [InlineData("2B 0E 01 01 00 00 01", AnswerStatus.WrongLength)] // an object is said to be there
    [InlineData("2B 0E 01 01 00 00 01 00 03 41 42", AnswerStatus.WrongLength)]
    [InlineData("2B 0E 01 01 00 00 01 00 01 41 42", AnswerStatus.WrongLength)]
    [InlineData("2B 0E 02 01 00 00 01 00 02 41 42", AnswerStatus.WrongEcho)]
    [InlineData("2B 0D 01 01 00 00 01 00 02 41 42", AnswerStatus.WrongEcho)]
    [InlineData("AB 01", AnswerStatus.DeviceException)]
    public void An_answer_is_held_against_its_request(string answer, AnswerStatus expected) =>
        Assert.Equal(expected, AnswerCodec.Check(Hex.Bytes(answer), Hex.Bytes("2B 0E 01 00"), out _, out _));

    [Fact]
    public void A_device_whose_stream_turns_in_a_circle_is_left()
    {
        using ScriptedPeer peer = new(socket =>
        {
            for (int i = 1; i <= 5; i++)
            {
                ScriptedPeer.Request(socket);
                socket.Send(Hex.Frame(i, 1, Hex.Bytes("2B 0E 01 01 FF 01 01 00 02 41 42")));
            }
        });
        using TcpModbusLink link = new(peer.EndPoint);
        link.Connect(Timed.PatienceMs);
        Assert.True(link.ReadDeviceIdentification(1, DeviceIdAccess.Basic, 0, Timed.PatienceMs, out DeviceIdentification? read).IsGood);
        Assert.Equal(2, read!.Objects.Count); // at 0 and, once, at 1
    }

    private DeviceIdentification Read(DeviceIdAccess access, byte objectId)
    {
        Assert.True(Exchange(access, objectId, out DeviceIdentification? read).IsGood);
        return read!;
    }

    private ModbusResult Exchange(DeviceIdAccess access, byte objectId, out DeviceIdentification? read)
    {
        using LoopbackServer loopback = new(device: _device);
        using TcpModbusLink link = loopback.Connect();
        return link.ReadDeviceIdentification(1, access, objectId, Timed.PatienceMs, out read);
    }
}
