namespace EdgeGuard.Service.Configuration;

/// <summary>Names of links, devices, units and points: they become parts of paths, node ids and journal lines.</summary>
internal static class PlainName
{
    public const string Expectation = "1 to 40 letters, digits, \"-\" or \"_\", a letter or digit first";
    private const int Longest = 40;

    public static bool IsOne(string name)
    {
        if (name.Length is 0 or > Longest || !char.IsAsciiLetterOrDigit(name[0]))
        {
            return false;
        }

        return name.All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_');
    }
}
