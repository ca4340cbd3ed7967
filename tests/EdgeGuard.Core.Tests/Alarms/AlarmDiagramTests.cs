using EdgeGuard.Core.Alarms;

namespace EdgeGuard.Core.Tests.Alarms;

/// <summary>
/// Every state × every input against a table written from the state diagram of ANSI/ISA-18.2 (from memory), apart from the
/// code. Rows: states A to I. Columns: condition begins, ends, acknowledge, reset, shelve, unshelve, shelving expires,
/// suppression begins, ends, removed from service, returned. "*": leaves to where condition, latch and suppression say.
/// </summary>
public sealed class AlarmDiagramTests
{
    private const string Letters = "ABCDEFGHI";

    private const string NotLatching = """
        A  B A A A G A A H A I A
        B  B D C B G B B H B I B
        C  C A C C G C C H C I C
        D  B D A D G D D H D I D
        E  B E F E E E E H E I E
        F  B F F A F F F H F I F
        G  G G G G G * * G G I G
        H  H H H H H H H H * I H
        I  I I I I I I I I I I *
        """;

    // Only the end of the condition differs.
    private const string Latching = """
        A  B A A A G A A H A I A
        B  B E C B G B B H B I B
        C  C F C C G C C H C I C
        D  B D A D G D D H D I D
        E  B E F E E E E H E I E
        F  B F F A F F F H F I F
        G  G G G G G * * G G I G
        H  H H H H H H H H * I H
        I  I I I I I I I I I I *
        """;

    [Trait("requirement", "ALRM-1")]
    [Theory]
    [InlineData(false, NotLatching)]
    [InlineData(true, Latching)]
    public void Every_state_times_every_input_is_that_of_the_diagram(bool latching, string table)
    {
        int cases = 0;
        foreach (string line in table.Split('\n'))
        {
            string[] cells = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            Assert.Equal(12, cells.Length);
            for (int input = 1; input <= 11; input++)
            {
                for (int flags = 0; flags < 8; flags++)
                {
                    var facts = new AlarmFacts(latching, (flags & 1) != 0, (flags & 2) != 0, (flags & 4) != 0);
                    char expected = cells[input] == "*" ? Shown(facts) : cells[input][0];
                    AlarmState state = FromLetter(cells[0][0]);
                    Assert.Equal(FromLetter(expected), AlarmDiagram.Next(state, (AlarmInput)input, facts));
                    cases++;
                }
            }
        }

        Assert.Equal(9 * 11 * 8, cases);
    }

    [Fact]
    public void Nothing_changes_nothing()
    {
        foreach (char letter in Letters)
        {
            Assert.Equal(FromLetter(letter), AlarmDiagram.Next(FromLetter(letter), AlarmInput.None, default));
        }
    }

    // The value of memory that nobody wrote must annunciate.
    [Fact]
    public void The_zero_state_is_the_one_that_annunciates()
    {
        Assert.Equal(AlarmState.Unacknowledged, default);
        Assert.Equal(AlarmAnswer.WrongState, default);
        Assert.Equal(AlarmPriority.High, default);
    }

    private static char Shown(AlarmFacts facts) => facts.Suppressed ? 'H' : facts.ConditionActive ? 'B' : facts.LatchHeld ? 'E' : 'A';

    private static AlarmState FromLetter(char letter) => letter switch
    {
        'A' => AlarmState.Normal,
        'B' => AlarmState.Unacknowledged,
        'C' => AlarmState.Acknowledged,
        'D' => AlarmState.ReturnedUnacknowledged,
        'E' => AlarmState.LatchedUnacknowledged,
        'F' => AlarmState.LatchedAcknowledged,
        'G' => AlarmState.Shelved,
        'H' => AlarmState.SuppressedByDesign,
        'I' => AlarmState.OutOfService,
        _ => throw new ArgumentOutOfRangeException(nameof(letter)),
    };
}
