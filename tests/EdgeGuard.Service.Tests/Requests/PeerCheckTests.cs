using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Requests;

public sealed class PeerCheckTests
{
    private const uint Stranger = 54_321;

    [Trait("requirement", "REQU-3")]
    [Fact]
    public void Nobody_may_ask_without_an_identity_from_the_kernel()
    {
        Assert.False(new PeerCheck(group: null).MayAsk(null));
    }

    [Fact]
    public void Root_may_ask_and_a_stranger_may_not()
    {
        var check = new PeerCheck(group: null);
        Assert.True(check.MayAsk(new PeerIdentity(0, 0, "root")));
        Assert.False(check.MayAsk(new PeerIdentity(Stranger, Stranger, "stranger")));
    }

    [Fact]
    public void The_configured_group_may_ask_and_an_unknown_group_admits_nobody()
    {
        // Group 0 is called root on every Linux (group(5)).
        Assert.True(new PeerCheck("root").MayAsk(new PeerIdentity(Stranger, 0, "stranger")));
        Assert.False(new PeerCheck("root").MayAsk(new PeerIdentity(Stranger, Stranger, "stranger")));
        Assert.False(new PeerCheck("no-such-group").MayAsk(new PeerIdentity(Stranger, Stranger, "stranger")));
    }

    [Fact]
    public void A_user_without_a_name_is_named_by_number()
    {
        Assert.Equal("uid 54321", LocalAccounts.UserName(Stranger));
        Assert.Equal("root", LocalAccounts.UserName(0));
    }
}
