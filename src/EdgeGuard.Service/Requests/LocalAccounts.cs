using System.Globalization;

namespace EdgeGuard.Service.Requests;

/// <summary>Names of users and members of groups, read from the machine's account files (passwd(5), group(5)).</summary>
public static class LocalAccounts
{
    private const string PasswdFile = "/etc/passwd";
    private const string GroupFile = "/etc/group";

    /// <summary>Name of a user; "uid N" when the files have none.</summary>
    public static string UserName(uint uid)
    {
        string wanted = uid.ToString(CultureInfo.InvariantCulture);
        return Find(PasswdFile, fields => fields.Length > 2 && fields[2] == wanted)?[0] ?? "uid " + wanted;
    }

    /// <summary>Group id of a group name; null when there is no such group.</summary>
    public static uint? GroupId(string group) =>
        Find(GroupFile, fields => fields[0] == group) is { Length: > 2 } row && uint.TryParse(row[2], NumberStyles.None, CultureInfo.InvariantCulture, out uint gid) ? gid : null;

    /// <summary>True when the group has the user as a member or is the group of the process.</summary>
    public static bool IsMember(string group, string user, uint gid)
    {
        string[]? row = Find(GroupFile, fields => fields[0] == group);
        return row is not null && ((row.Length > 3 && row[3].Split(',').Contains(user, StringComparer.Ordinal)) || GroupId(group) == gid);
    }

    private static string[]? Find(string file, Func<string[], bool> match)
    {
        try
        {
            return File.ReadLines(file).Select(static line => line.Split(':')).FirstOrDefault(match);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }
}
