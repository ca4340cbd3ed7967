using EdgeGuard.Core.Alarms;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;

namespace EdgeGuard.Service.Configuration.Schema;

/// <summary>The keys under `alarms` that let the alarm of a trip be hidden: its name in small letters, for each that may be at all.</summary>
internal static class AlarmFlags
{
    public static readonly IReadOnlyList<(string Name, FunctionId Alarm)> All =
        [.. Enum.GetValues<FunctionId>().Where(AlarmIds.MayBeMarked).Select(f => (AlarmTexts.CodeOf(f).ToLowerInvariant(), f))];
}
