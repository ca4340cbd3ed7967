using EdgeGuard.Core.Interlocks;

namespace EdgeGuard.Service.Configuration.Schema;

/// <summary>The keys under `bypass` that let a function be bypassed: its code in small letters, for each that may be at all.</summary>
internal static class BypassFlags
{
    public static readonly IReadOnlyList<(string Name, FunctionId Function)> All =
        [.. Enum.GetValues<FunctionId>().Where(FunctionIds.MayBeBypassed).Select(f => (f.ToString().ToLowerInvariant(), f))];
}
