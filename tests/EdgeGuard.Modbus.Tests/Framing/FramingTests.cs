using EdgeGuard.Modbus.Framing;

namespace EdgeGuard.Modbus.Tests.Framing;

public sealed class FramingTests
{
    [Fact]
    public void The_frame_of_the_TCP_guide_is_taken_apart_as_printed()
    {
        // Messaging on TCP/IP Implementation Guide V1.0b, example ADU: transaction 0x1501, unit FF, one register at 4.
        byte[] bytes = Hex.Bytes("15 01 00 00 00 06 FF 03 00 04 00 01");

        Assert.Equal(FrameStatus.Ok, MbapCodec.Decode(bytes, out MbapFrame frame));
        Assert.Equal(0x1501, frame.TransactionId);
        Assert.Equal(0xFF, frame.UnitId);
        Assert.Equal("03 00 04 00 01", Hex.Text(frame.Pdu));
        Assert.Equal(12, frame.FrameLength);

        byte[] written = new byte[12];
        frame.Pdu.CopyTo(written.AsSpan(7));
        Assert.Equal(12, MbapCodec.WriteHeader(written, 0x1501, 0xFF, 5));
        Assert.Equal(bytes, written);
    }

    [Theory]
    [InlineData("00 01 00 01", FrameStatus.BadProtocolId)] // known with four bytes
    [InlineData("00 01 80 00", FrameStatus.BadProtocolId)]
    [InlineData("00 01 00 00 00 00", FrameStatus.BadLength)]
    [InlineData("00 01 00 00 00 01", FrameStatus.BadLength)] // a unit without a function
    [InlineData("00 01 00 00 00 02", FrameStatus.NeedMore)]
    [InlineData("00 01 00 00 00 FE", FrameStatus.NeedMore)] // 254 = unit and the longest PDU
    [InlineData("00 01 00 00 00 FF", FrameStatus.BadLength)]
    [InlineData("00 01 00 00 01 02", FrameStatus.BadLength)]
    [InlineData("00 01 00 00 FF FF", FrameStatus.BadLength)]
    [InlineData("", FrameStatus.NeedMore)]
    [InlineData("00 01 00", FrameStatus.NeedMore)]
    [InlineData("00 01 00 00 00 02 01", FrameStatus.NeedMore)]
    [InlineData("00 01 00 00 00 02 01 03", FrameStatus.Ok)]
    public void A_frame_is_judged_on_what_it_declares(string bytes, FrameStatus expected) =>
        Assert.Equal(expected, MbapCodec.Decode(Hex.Bytes(bytes), out _));

    [Fact]
    public void Crc_of_the_check_string_is_the_catalogue_value() =>
        Assert.Equal(0x4B37, Crc16.Compute("123456789"u8)); // CRC-16/MODBUS in the RevEng catalogue of CRC algorithms

    [Fact]
    public void Crc_of_the_serial_line_example_is_the_printed_one()
    {
        // Serial Line V1.02, 6.2.2: frame 02 07 has CRC 0x1241, sent as 41 12.
        Assert.Equal(0x1241, Crc16.Compute([0x02, 0x07]));
        byte[] frame = new byte[4];
        Assert.Equal(4, RtuCodec.Write(frame, 0x02, [0x07]));
        Assert.Equal("02 07 41 12", Hex.Text(frame));
    }

    // The request and answer examples of V1.1b3 with unit 11 (hex) in front; CRCs computed independently from the
    // polynomial of Serial Line V1.02, those of 11 03 and 01 03 as in many public worked examples.
    [Theory]
    [InlineData("11 03 00 6B 00 03 76 87")]
    [InlineData("11 03 06 02 2B 00 00 00 64 C8 BA")]
    [InlineData("11 01 00 13 00 13 8E 92")]
    [InlineData("11 02 00 C4 00 16 BA A9")]
    [InlineData("11 02 03 AC DB 35 20 18")]
    [InlineData("11 04 00 08 00 01 B2 98")]
    [InlineData("11 05 00 AC FF 00 4E 8B")]
    [InlineData("11 06 00 01 00 03 9A 9B")]
    [InlineData("11 0F 00 13 00 0A 02 CD 01 BF 0B")]
    [InlineData("11 10 00 01 00 02 04 00 0A 01 02 C6 F0")]
    [InlineData("11 83 02 C1 34")]
    [InlineData("01 03 00 00 00 0A C5 CD")]
    public void An_RTU_frame_is_written_and_read_with_its_known_crc(string text)
    {
        byte[] expected = Hex.Bytes(text);
        byte[] written = new byte[expected.Length];

        Assert.Equal(expected.Length, RtuCodec.Write(written, expected[0], expected.AsSpan(1, expected.Length - 3)));
        Assert.Equal(text, Hex.Text(written));
        Assert.Equal(FrameStatus.Ok, RtuCodec.Read(expected, out byte unitId, out ReadOnlySpan<byte> pdu));
        Assert.Equal(expected[0], unitId);
        Assert.Equal(expected[1..^2], pdu.ToArray());
    }

    [Fact]
    public void Any_flipped_bit_of_an_RTU_frame_is_found()
    {
        byte[] frame = Hex.Bytes("11 10 00 01 00 02 04 00 0A 01 02 C6 F0");
        for (int bit = 0; bit < frame.Length * 8; bit++)
        {
            frame[bit / 8] ^= (byte)(1 << (bit % 8));
            Assert.Equal(FrameStatus.BadCrc, RtuCodec.Read(frame, out _, out ReadOnlySpan<byte> pdu));
            Assert.True(pdu.IsEmpty);
            frame[bit / 8] ^= (byte)(1 << (bit % 8));
        }
    }

    [Fact]
    public void RTU_frames_of_impossible_length_are_refused()
    {
        Assert.Equal(FrameStatus.BadLength, RtuCodec.Read(new byte[3], out _, out _));
        Assert.Equal(FrameStatus.BadLength, RtuCodec.Read(new byte[257], out _, out _)); // 256: V1.1b3, 4.1
        byte[] longest = new byte[256];
        RtuCodec.Write(longest, 1, new byte[253]);
        Assert.Equal(FrameStatus.Ok, RtuCodec.Read(longest, out _, out _));
    }
}
