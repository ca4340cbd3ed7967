using System.Net;
using System.Net.Sockets;

namespace EdgeGuard.OpcUa.Security;

/// <summary>
/// Slows guessing of passwords: after some wrong attempts an address, and a user name, has to wait; every further wrong
/// attempt doubles the wait. Attempts during the wait are refused without being looked at and do not lengthen it, so that a
/// stranger cannot keep a user out for good. A right password clears its user but not its address, or a guesser would clear
/// himself with an account of his own. Runs on monotonic time; both tables are bounded. Safe for several threads.
/// </summary>
public sealed class LoginThrottle
{
    private readonly Lock _gate = new();
    private readonly LoginThrottleOptions _options;
    private readonly ThrottleTable _addresses;
    private readonly ThrottleTable _users;

    /// <summary>Begins with nobody waiting.</summary>
    public LoginThrottle(LoginThrottleOptions? options = null)
    {
        _options = options ?? new LoginThrottleOptions();
        _addresses = new ThrottleTable(_options, _options.AddressWaitMsMax);
        _users = new ThrottleTable(_options, _options.UserWaitMsMax);
    }

    /// <summary>Time that this address or user still has to wait, ms; 0 when it may try.</summary>
    public long WaitMs(string address, string userName, long monotonicMs)
    {
        lock (_gate)
        {
            return Math.Max(_addresses.WaitMs(Network(address), monotonicMs), _users.WaitMs(userName, monotonicMs));
        }
    }

    /// <summary>Counts a wrong attempt.</summary>
    public void Wrong(string address, string userName, long monotonicMs)
    {
        lock (_gate)
        {
            _addresses.Wrong(Network(address), monotonicMs);
            _users.Wrong(userName, monotonicMs);
        }
    }

    /// <summary>Takes note of a right password.</summary>
    public void Right(string userName)
    {
        lock (_gate)
        {
            _users.Clear(userName);
        }
    }

    // One machine owns a whole /64 of IPv6 (RFC 4291, 2.5.4), so that single addresses there are free to a guesser.
    private static string Network(string address)
    {
        if (!IPAddress.TryParse(address, out IPAddress? parsed))
        {
            return address;
        }

        if (parsed.IsIPv4MappedToIPv6)
        {
            return parsed.MapToIPv4().ToString();
        }

        return parsed.AddressFamily == AddressFamily.InterNetworkV6 ? Convert.ToHexString(parsed.GetAddressBytes().AsSpan(0, 8)) : parsed.ToString();
    }
}
