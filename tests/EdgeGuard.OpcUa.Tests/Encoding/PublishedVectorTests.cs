using static EdgeGuard.OpcUa.Tests.Wire;

namespace EdgeGuard.OpcUa.Tests.Encoding;

/// <summary>
/// The figures of OPC 10000-6, clause 5.2.2, as reproduced in several public test suites. Where a row is computed from the
/// rules of that clause instead, it says so.
/// </summary>
public sealed class PublishedVectorTests
{
    private static readonly UaDateTime Noon = UaDateTime.FromUtc(new DateTime(2020, 7, 4, 12, 0, 0, DateTimeKind.Utc));

    [Fact]
    public void UInt32_of_one_thousand_million_as_in_the_figure()
    {
        Assert.Equal("00CA9A3B", Written(w => w.WriteUInt32(1_000_000_000)));
        var reader = new UaReader(Hex("00CA9A3B"));
        Assert.Equal(1_000_000_000u, reader.ReadUInt32());
    }

    [Fact]
    public void Float_of_minus_6_5_as_in_the_figure()
    {
        Assert.Equal("0000D0C0", Written(w => w.WriteFloat(-6.5f)));
        var reader = new UaReader(Hex("0000D0C0"));
        Assert.Equal(-6.5f, reader.ReadFloat());
    }

    [Theory]
    [InlineData("水Boy", "06000000E6B0B4426F79")]
    [InlineData(null, "FFFFFFFF")]
    [InlineData("", "00000000")]
    [InlineData("<A>Hot水</A>", "0D0000003C413E486F74E6B0B43C2F413E")]
    public void Strings_and_XmlElement_as_in_the_figures(string? text, string hex)
    {
        Assert.Equal(hex, Written(w => w.WriteString(text)));
        var reader = new UaReader(Hex(hex));
        Assert.Equal(text, reader.ReadString());
        Assert.Equal(0, reader.Remaining);
    }

    [Fact]
    public void Guid_as_in_the_figure()
    {
        var guid = Guid.Parse("72962B91-FA75-4AE6-8D28-B404DC7DAF63");
        Assert.Equal("912B967275FAE64A8D28B404DC7DAF63", Written(w => w.WriteGuid(guid)));
        var reader = new UaReader(Hex("912B967275FAE64A8D28B404DC7DAF63"));
        Assert.Equal(guid, reader.ReadGuid());
    }

    // The four-byte figure of version 1.03 misprints 0x40 for the namespace's second octet; 01 05 01 04 is 1025 = 0x0401.
    // The last two rows follow the rule of the form 02 (computed).
    [Theory]
    [InlineData("i=114", "0072")]
    [InlineData("ns=5;i=1025", "01050104")]
    [InlineData("ns=1;s=Hot水", "03010006000000486F74E6B0B4")]
    [InlineData("ns=1;i=65536", "02010000000100")]
    [InlineData("ns=256;i=1", "02000101000000")]
    public void NodeIds_as_in_the_figures(string text, string hex)
    {
        Assert.True(NodeId.TryParse(text, out NodeId nodeId));
        Assert.Equal(text, nodeId.ToString());
        Assert.Equal(hex, Written(w => w.WriteNodeId(nodeId)));
        var reader = new UaReader(Hex(hex));
        Assert.Equal(nodeId, reader.ReadNodeId());
        Assert.Equal(0, reader.Remaining);
    }

    [Fact]
    public void Unix_epoch_and_a_noon_in_100_ns_since_1601()
    {
        Assert.Equal(116_444_736_000_000_000, UaDateTime.FromUnixMs(0).Ticks);
        Assert.Equal("00A0A5A4FA51D601", Written(w => w.WriteDateTime(Noon)));
    }

    // Computed from 5.2.2.16: type 11, then the IEEE 754 bits of 1100.0.
    [Fact]
    public void Variant_of_a_Double()
    {
        Assert.Equal("0B0000000000309140", Written(w => w.WriteVariant(new Variant(1100.0))));
        var reader = new UaReader(Hex("0B0000000000309140"));
        Assert.Equal(1100.0, reader.ReadVariant().AsDouble);
    }

    // Computed from 5.2.2.17: mask value, status and source timestamp.
    [Fact]
    public void DataValue_with_status_and_source_timestamp()
    {
        var value = new DataValue(new Variant(1100.0), StatusCode.UncertainLastUsableValue, Noon);
        const string Expected = "070B00000000003091400000904000A0A5A4FA51D601";
        Assert.Equal(Expected, Written(w => w.WriteDataValue(value)));
        var reader = new UaReader(Hex(Expected));
        Assert.Equal(value, reader.ReadDataValue());
        Assert.Equal(0, reader.Remaining);
    }

    // The mask of DataValue: 01 value, 02 status, 04 source, 08 server, 10 and 20 picoseconds; a Good status is left out.
    [Fact]
    public void Each_part_of_a_DataValue_has_its_bit()
    {
        Assert.Equal("00", Written(w => w.WriteDataValue(default)));
        Assert.Equal("0200000A80", Written(w => w.WriteDataValue(new DataValue(StatusCode.BadTimeout))));
        Assert.Equal("0800A0A5A4FA51D601", Written(w => w.WriteDataValue(new DataValue(default, ServerTimestamp: Noon))));
        Assert.Equal("3C00A0A5A4FA51D601010000A0A5A4FA51D6010200", Written(w => w.WriteDataValue(new DataValue(default, StatusCode.Good, Noon, Noon, 1, 2))));
    }

    // StatusCode.csv of the standard.
    [Theory]
    [InlineData("Good", 0x00000000)]
    [InlineData("GoodClamped", 0x00300000)]
    [InlineData("GoodNoData", 0x00A50000)]
    [InlineData("UncertainNoCommunicationLastUsableValue", 0x408F0000)]
    [InlineData("UncertainLastUsableValue", 0x40900000)]
    [InlineData("UncertainSimulatedValue", 0x42090000)]
    [InlineData("BadCommunicationError", 0x80050000)]
    [InlineData("BadTimeout", 0x800A0000)]
    [InlineData("BadNoCommunication", 0x80310000)]
    [InlineData("BadNotConnected", 0x808A0000)]
    [InlineData("BadSensorFailure", 0x808C0000)]
    [InlineData("BadUserAccessDenied", 0x801F0000)]
    [InlineData("BadInvalidState", 0x80AF0000)]
    [InlineData("BadConditionBranchAlreadyAcked", 0x80CF0000)]
    [InlineData("BadCertificateUntrusted", 0x801A0000)]
    [InlineData("BadSecurityChecksFailed", 0x80130000)]
    [InlineData("BadBoundNotFound", 0x80D70000)]
    public void Status_codes_have_the_numbers_of_the_published_table(string name, uint number)
    {
        Assert.Equal((StatusCode)number, Enum.Parse<StatusCode>(name));
    }

    // OPC 10000-4, StatusCode bit assignments: InfoType DataValue 0x0400, Overflow 0x0080.
    [Fact]
    public void Overflow_of_a_queue_is_marked_in_the_information_bits()
    {
        Assert.Equal(0x00000480u, (uint)StatusCode.Good.WithOverflow());
        Assert.True(StatusCode.Good.WithOverflow().IsGood());
        Assert.True(StatusCode.BadTimeout.WithOverflow().HasOverflow());
        Assert.Equal(StatusCode.BadTimeout, StatusCode.BadTimeout.WithOverflow().Code());
        Assert.True(StatusCode.UncertainLastUsableValue.IsUncertain());
    }
}
