using System.Text.Json;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Process;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.VirtualPlant.Tests.Process;

/// <summary>One line in, one line out; what is wrong changes nothing and says what to try.</summary>
public sealed class PlantCommandsTests
{
    [Theory]
    [InlineData("")]
    [InlineData("   ")]
    [InlineData("nonsense")]
    [InlineData("advance")]
    [InlineData("advance 0")]
    [InlineData("advance -5")]
    [InlineData("advance 1.5")]
    [InlineData("advance 99999999999")]
    [InlineData("advance 5 5")]
    [InlineData("fault")]
    [InlineData("fault blower-stop")]
    [InlineData("fault blower-stop N-9")]
    [InlineData("fault blower N-1")]
    [InlineData("fault blower-stop N-1 3")]
    [InlineData("fault filter-clog N-1 NaN")]
    [InlineData("fault filter-clog N-1 1.01")]
    [InlineData("fault supply-high N-1 2")]
    [InlineData("fault none N-1")]
    [InlineData("clear")]
    [InlineData("clear nothing N-1")]
    [InlineData("clear all N-9")]
    [InlineData("key N-1")]
    [InlineData("key N-1 1")]
    [InlineData("key N-1 open")]
    [InlineData("key N-9 local")]
    [InlineData("state N-9")]
    [InlineData("ledger N-9")]
    public void A_wrong_line_is_answered_with_an_error_in_one_line_and_changes_nothing(string line)
    {
        (Plant plant, PlantCommands commands) = Make();
        string before = commands.Execute("state");
        string answer = commands.Execute(line);
        Assert.StartsWith("error: ", answer, StringComparison.Ordinal);
        Assert.Contains("try: ", answer, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', answer);
        Assert.Equal(before, commands.Execute("state"));
        Assert.All(Enum.GetValues<FaultKind>(), kind => Assert.False(plant.Cabinets[0].Faults.Has(kind)));
    }

    [Fact]
    public void Every_fault_of_the_enumeration_has_a_name_and_can_be_set_and_cleared()
    {
        (Plant plant, PlantCommands commands) = Make();
        string[] names = FaultNames.All.Split(' ');
        Assert.Equal(Enum.GetValues<FaultKind>().Length - 1, names.Length);
        foreach (string name in names)
        {
            Assert.True(FaultNames.TryParse(name, out FaultKind kind));
            Assert.StartsWith("ok fault", commands.Execute($"fault {name} n-1"), StringComparison.Ordinal);
            Assert.True(plant.Cabinets[0].Faults.Has(kind));
            Assert.StartsWith("ok clear", commands.Execute($"clear {name} N-1"), StringComparison.Ordinal);
            Assert.False(plant.Cabinets[0].Faults.Has(kind));
        }
    }

    [Fact]
    public void Advance_answers_the_plant_time_reached()
    {
        (_, PlantCommands commands) = Make();
        Assert.Equal("at 100", commands.Execute("advance 100"));
        Assert.Equal("at 107", commands.Execute("advance 7"));
    }

    [Fact]
    public void Advance_is_refused_in_real_time()
    {
        var plant = new Plant([PlantProfiles.N1], DateTime.UnixEpoch);
        var commands = new PlantCommands(plant, conducted: false, ledgerFile: null, _ => null);
        Assert.StartsWith("error: ", commands.Execute("advance 5"), StringComparison.Ordinal);
        Assert.Equal(0, plant.NowMs);
    }

    [Fact]
    public void State_and_ledger_are_one_line_of_JSON_with_the_documented_keys()
    {
        (_, PlantCommands commands) = Make();
        commands.Execute("advance 1000");
        string[] answers = [commands.Execute("state"), commands.Execute("ledger"), commands.Execute("state N-1"), commands.Execute("ledger N-1")];
        Assert.All(answers, answer => Assert.DoesNotContain('\n', answer));
        using JsonDocument ledger = JsonDocument.Parse(answers[1]);
        Assert.Equal("2026-01-05T06:00:00.000Z", ledger.RootElement.GetProperty("startUtc").GetString());
        Assert.Equal(45.0, ledger.RootElement.GetProperty("site").GetProperty("siteLimitKw").GetDouble());
        JsonElement unit = ledger.RootElement.GetProperty("units")[0];
        Assert.Equal("N-1", unit.GetProperty("unit").GetString());
        Assert.Equal(20.0, unit.GetProperty("elementMaxC").GetDouble());
        Assert.Equal(70.0, unit.GetProperty("minimumFlowKgPerHour").GetDouble());
        using JsonDocument state = JsonDocument.Parse(answers[0]);
        Assert.Equal("Withdrawn", state.RootElement.GetProperty("units")[0].GetProperty("permit").GetString());
        Assert.Equal("Supervised", state.RootElement.GetProperty("units")[0].GetProperty("key").GetString());
    }

    [Fact]
    public void The_ledger_file_has_a_line_per_unit_and_one_for_the_site()
    {
        string path = Path.Combine(Path.GetTempPath(), $"ledger-{Guid.NewGuid():N}.jsonl");
        try
        {
            var plant = new Plant([PlantProfiles.N1, PlantProfiles.A1], DateTime.UnixEpoch);
            var commands = new PlantCommands(plant, conducted: true, ledgerFile: path, _ => null);
            commands.Execute("ledger");
            string[] lines = File.ReadAllLines(path);
            Assert.Equal(3, lines.Length);
            Assert.StartsWith("{\"unit\":\"A-1\"", lines[1], StringComparison.Ordinal);
            Assert.StartsWith("{\"siteLimitKw\":45", lines[2], StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void Quit_is_answered_and_remembered()
    {
        (_, PlantCommands commands) = Make();
        Assert.Equal("bye at 0", commands.Execute("quit"));
        Assert.True(commands.QuitAsked);
    }

    private static (Plant Plant, PlantCommands Commands) Make()
    {
        var plant = new Plant([PlantProfiles.N1], new DateTime(2026, 1, 5, 6, 0, 0, DateTimeKind.Utc));
        return (plant, new PlantCommands(plant, conducted: true, ledgerFile: null, _ => null));
    }
}
