namespace EdgeGuard.Core.Interlocks;

/// <summary>Facts about the set of <see cref="FunctionId"/> values.</summary>
public static class FunctionIds
{
    /// <summary>Length of arrays indexed by function.</summary>
    public const int Count = (int)FunctionId.Self + 1;
}
