namespace EdgeGuard.Core.Interlocks;

/// <summary>Facts about the set of <see cref="CommandRole"/> values.</summary>
public static class CommandRoles
{
    /// <summary>Number of roles; arrays indexed by role have this length.</summary>
    public const int Count = (int)CommandRole.OutputLimit + 1;
}
