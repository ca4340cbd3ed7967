namespace EdgeGuard;

/// <summary>Exit codes of all commands; the numbers above 63 are those of BSD sysexits.</summary>
internal static class ExitCode
{
    /// <summary>Done, and nothing to complain about.</summary>
    public const int Good = 0;

    /// <summary>Done, and something was found (check, verify, demo).</summary>
    public const int Found = 1;

    /// <summary>The command line is wrong.</summary>
    public const int Usage = 64;

    /// <summary>A file read as data is damaged.</summary>
    public const int BadData = 65;

    /// <summary>A service or device that is needed does not answer.</summary>
    public const int Unavailable = 69;

    /// <summary>A fault of the program itself.</summary>
    public const int Software = 70;

    /// <summary>The site's configuration is wrong; nothing was started.</summary>
    public const int Configuration = 78;
}
