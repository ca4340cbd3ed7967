using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using static EdgeGuard.Core.Tests.Signals.TestSignals;

namespace EdgeGuard.Core.Tests.Signals;

public sealed class ImageBuilderTests
{
    private static readonly SignalTable Element = Table(WordType.UInt16);
    private static readonly SignalTable Flow = Table(WordType.UInt16, offset: 1) with { Role = SignalRole.GasFlow };

    [Fact]
    public void Every_role_is_written_and_the_ones_not_configured_are_not_connected()
    {
        ScanImage image = Stale();
        ImageBuilder.Build(Unit(Element, Flow), Scan(700, 140), image);
        for (int role = 0; role < SignalRoles.Count; role++)
        {
            SignalValue value = image[(SignalRole)role];
            Assert.True(value.Known);
            bool configured = (SignalRole)role is SignalRole.ElementTemperature or SignalRole.GasFlow;
            Assert.Equal(configured ? StatusCode.Good : StatusCode.BadNotConnected, value.Status);
        }

        Assert.Equal(700, image[SignalRole.ElementTemperature].Value);
        Assert.Equal(140, image[SignalRole.GasFlow].Value);
    }

    [Fact]
    public void A_role_configured_twice_has_no_value()
    {
        ScanImage image = Stale();
        ImageBuilder.Build(Unit(Element, Element with { WordOffset = 1 }), Scan(700, 140), image);
        Assert.Equal(StatusCode.BadConfigurationError, image[SignalRole.ElementTemperature].Status);
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(1)]
    public void A_block_that_does_not_exist_is_a_configuration_error(int block)
    {
        ScanImage image = Stale();
        ImageBuilder.Build(Unit(Element with { Block = block }), Scan(700, 140), image);
        Assert.Equal(StatusCode.BadConfigurationError, image[SignalRole.ElementTemperature].Status);
    }

    [Fact]
    public void A_role_that_does_not_exist_leaves_the_others_alone()
    {
        ScanImage image = Stale();
        ImageBuilder.Build(Unit(Element with { Role = (SignalRole)200 }, Flow), Scan(700, 140), image);
        Assert.True(image[SignalRole.GasFlow].IsGood);
    }

    [Fact]
    public void Building_an_image_allocates_nothing()
    {
        UnitTable unit = Unit(Element, Flow);
        RawScan scan = Scan(700, 140);
        var image = new ScanImage();
        for (int i = 0; i < 100; i++)
        {
            ImageBuilder.Build(unit, scan, image);
        }

        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 10_000; i++)
        {
            ImageBuilder.Build(unit, scan, image);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static ScanImage Stale()
    {
        var image = new ScanImage();
        for (int role = 0; role < SignalRoles.Count; role++)
        {
            image[(SignalRole)role] = new SignalValue { Value = 1, Status = StatusCode.Good, Known = true };
        }

        return image;
    }

    private static RawScan Scan(params ushort[] words)
    {
        var scan = new RawScan([words.Length], 1);
        scan.Blocks[0] = Block(words);
        return scan;
    }

    private static UnitTable Unit(params SignalTable[] signals) => new()
    {
        Name = "N-1",
        Mode = UnitMode.Observe,
        FinalElement = FinalElementClass.None,
        RatedPowerKw = 36,
        SetpointC = 650,
        WatchdogMs = 2000,
        CommLimitMs = 1000,
        SensDelayMs = 0,
        Signals = signals,
        Commands = [],
        Flow = null!,
        Elem = null!,
        Outl = null!,
        Nors = null!,
        Resd = null!,
        Cool = null!,
    };
}
