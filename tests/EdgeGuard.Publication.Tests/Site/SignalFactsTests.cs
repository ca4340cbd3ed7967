using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Publication.Site;

namespace EdgeGuard.Publication.Tests.Site;

/// <summary>A role that was added to the core and forgotten here would be published as a number without a unit.</summary>
public sealed class SignalFactsTests
{
    [Fact]
    public void Every_signal_has_a_unit_of_the_table_or_two_states_and_a_sentence()
    {
        SignalRole[] roles = [.. Enum.GetValues<SignalRole>()];
        Assert.Equal(SignalRoles.Count, roles.Length);
        Assert.All(roles, static role =>
        {
            string unit = SignalFacts.Unit(role);
            Assert.True(unit.Length > 0 != SignalFacts.States(role) is not null, $"{role}: either a unit or two states");

            // UnitId -1 is what a unit without a code gets.
            Assert.True(unit.Length == 0 || UnitCodes.FromSign(unit).UnitId > 0, $"{role}: {unit} has no code");
            Assert.True(SignalFacts.Description(role).Length > 0, $"{role}: no sentence");
        });
    }

    [Fact]
    public void Every_command_has_a_unit_and_a_sentence() =>
        Assert.All(Enum.GetValues<CommandRole>(), static role => Assert.True(SignalFacts.Unit(role).Length > 0 && SignalFacts.Description(role).Length > 0, role.ToString()));
}
