using EdgeGuard.Core.Thermal;

namespace EdgeGuard.Core.Tests.Thermal;

public sealed class ContactorCountTests
{
    [Trait("requirement", "THRM-8")]
    [Fact]
    public void A_contactor_that_stays_open_while_power_is_still_read_has_opened_once()
    {
        var duty = new DutyCounter(0.1);
        duty.Add(10, 1, true);
        for (int i = 0; i < 5; i++)
        {
            duty.Add(10, 1, false);
        }

        Assert.Equal((0, 1), (duty.ContactorClosings, duty.OpeningsUnderPower));
    }
}
