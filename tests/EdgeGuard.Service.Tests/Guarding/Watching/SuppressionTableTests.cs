using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Tests.Configuration;

namespace EdgeGuard.Service.Tests.Guarding.Watching;

public sealed class SuppressionTableTests
{
    [Trait("requirement", "ALRM-3")]
    [Fact]
    public void The_table_of_what_is_suppressed_while_what_is_that_of_the_code()
    {
        string[] lines = File.ReadAllLines(Path.Combine(SiteFolders.Root, "docs", "reference", "alarms.md"));
        int head = Array.IndexOf(lines, "| alarm | suppressed while | why |");
        string[] table = [.. lines.Skip(head + 2).TakeWhile(static line => line.StartsWith('|'))];
        Assert.Equal(Enumerable.Range(0, FunctionIds.Count).Select(static i => (FunctionId)i).Where(AlarmIds.Exists).Select(Row), table);
    }

    private static string Row(FunctionId alarm)
    {
        AlarmSuppression rule = SuppressionRules.Of(alarm);
        return rule == AlarmSuppression.None ? $"| {AlarmTexts.CodeOf(alarm)} | never |  |" : $"| {AlarmTexts.CodeOf(alarm)} | {AlarmTexts.While(rule)} | {AlarmTexts.Why(rule)} |";
    }
}
