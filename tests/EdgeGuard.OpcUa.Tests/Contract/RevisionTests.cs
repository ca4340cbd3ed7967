using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Tests.Server;

namespace EdgeGuard.OpcUa.Tests.Contract;

/// <summary>Corners of the contract that have no home in the other classes.</summary>
public sealed class RevisionTests
{
    // OPC 10000-4, CreateSubscription: the lifetime shall be at least three times the keep-alive count.
    [Theory]
    [InlineData(10u, 1u)]
    [InlineData(10u, 29u)]
    [InlineData(1u, 0u)]
    [InlineData(0u, 0u)]
    [InlineData(uint.MaxValue, uint.MaxValue)]
    public void Point_8_a_lifetime_is_at_least_three_keep_alives(uint keepAlives, uint lifetime)
    {
        using var bench = new ServerBench();
        CreateSubscriptionResponse revised = bench.Activated().Subscribe(keepAlives: keepAlives, lifetime: lifetime);
        Assert.True(revised.RevisedMaxKeepAliveCount >= 1, $"{revised.RevisedMaxKeepAliveCount} keep-alives");
        Assert.True(revised.RevisedLifetimeCount >= 3ul * revised.RevisedMaxKeepAliveCount, $"{revised.RevisedLifetimeCount} against {revised.RevisedMaxKeepAliveCount} keep-alives");
    }

    [Fact]
    public void Point_13_a_locale_nobody_has_falls_back_to_en()
    {
        using var bench = new ServerBench();
        BenchClient client = bench.Connect();
        client.CreateSession();
        Assert.Equal(StatusCode.Good, client.Ask(new ActivateSessionRequest { LocaleIds = ["tlh", "xx-XX"] }).ResponseHeader.ServiceResult);
        DataValue name = client.Read(new NodeId(2253), AttributeId.DisplayName);
        Assert.Equal(StatusCode.Good, name.Status);
        Assert.Equal("Server", name.Value.AsLocalizedText.Text);
        Assert.True(name.Value.AsLocalizedText.Locale is null or "" or "en", name.Value.AsLocalizedText.Locale);
    }
}
