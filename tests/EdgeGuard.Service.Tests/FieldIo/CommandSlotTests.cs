using EdgeGuard.Core.Signals;
using EdgeGuard.Service.FieldIo;

namespace EdgeGuard.Service.Tests.FieldIo;

public sealed class CommandSlotTests
{
    private readonly CommandSlot _slot = new();

    [Fact]
    public void The_latest_value_wins()
    {
        _slot.Offer(1, twoWords: false, deEnergising: false);
        _slot.Offer(2, twoWords: false, deEnergising: false);
        Assert.Equal(2u, CommandSlot.WordsOf(_slot.Take(deEnergising: false)));
        Assert.Equal(0, _slot.Take(deEnergising: false));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void An_energising_value_never_displaces_an_unconfirmed_de_energising_one(bool underway)
    {
        _slot.Offer(0, twoWords: false, deEnergising: true);
        long taken = underway ? _slot.Take(deEnergising: true) : 0;
        Assert.False(_slot.Offer(1, twoWords: false, deEnergising: false));
        if (underway)
        {
            _slot.LinkLost(taken);
        }

        Assert.NotEqual(0, _slot.Take(deEnergising: true));
        Assert.Equal(0, _slot.Take(deEnergising: false));
    }

    [Fact]
    public void A_de_energising_value_displaces_a_waiting_energising_one()
    {
        _slot.Offer(7, twoWords: false, deEnergising: false);
        Assert.True(_slot.Offer(0, twoWords: false, deEnergising: true));
        Assert.Equal(0, _slot.Take(deEnergising: false));
        Assert.Equal(0u, CommandSlot.WordsOf(_slot.Take(deEnergising: true)));
    }

    [Fact]
    public void A_write_under_way_that_is_overtaken_does_not_confirm_the_newer_one()
    {
        _slot.Offer(7, twoWords: false, deEnergising: false);
        long old = _slot.Take(deEnergising: false);
        _slot.Offer(0, twoWords: false, deEnergising: true);
        _slot.Complete(old, confirmed: true);
        Assert.Equal(CommandFeedback.Outstanding, _slot.Feedback);
        _slot.Complete(_slot.Take(deEnergising: true), confirmed: true);
        Assert.Equal(CommandFeedback.Confirmed, _slot.Feedback);
    }

    [Fact]
    public void Losing_the_link_fails_energising_and_keeps_de_energising()
    {
        _slot.Offer(7, twoWords: false, deEnergising: false);
        _slot.LinkLost(_slot.Take(deEnergising: false));
        Assert.Equal(CommandFeedback.Failed, _slot.Feedback);
        _slot.Offer(0, twoWords: false, deEnergising: true);
        _slot.LinkLost(_slot.Take(deEnergising: true));
        Assert.Equal(CommandFeedback.Outstanding, _slot.Feedback);
        Assert.False(_slot.DropEnergising());
        Assert.True(_slot.IsWaiting);
    }

    [Fact]
    public void A_refused_write_reports_failed_but_leaves_a_waiting_removal_alone()
    {
        _slot.Refuse();
        Assert.Equal(CommandFeedback.Failed, _slot.Feedback);
        _slot.Offer(0, twoWords: false, deEnergising: true);
        _slot.Refuse();
        Assert.Equal(CommandFeedback.Outstanding, _slot.Feedback);
    }

    [Fact]
    public void Two_words_and_all_bits_survive_the_slot()
    {
        _slot.Offer(0xFFFF_8001, twoWords: true, deEnergising: true);
        long taken = _slot.Take(deEnergising: true);
        Assert.Equal(0xFFFF_8001, CommandSlot.WordsOf(taken));
        Assert.True(CommandSlot.IsTwoWords(taken));
    }
}
