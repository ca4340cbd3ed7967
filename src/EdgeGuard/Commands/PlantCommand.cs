using System.CommandLine;
using System.Globalization;
using System.Net.Sockets;
using EdgeGuard.Modbus.Transports;
using EdgeGuard.VirtualPlant.Process;
using EdgeGuard.VirtualPlant.Profiles;

namespace EdgeGuard.Commands;

/// <summary>
/// `edgeguard plant`: the virtual cabinets and heaters, to practise on and to test with. Example:
/// edgeguard plant --profile N-1,A-1 --ledger ledger.jsonl, then type: fault blower-stop N-1
/// </summary>
internal static class PlantCommand
{
    private const string Description = "Play virtual heater cabinets over Modbus TCP, with faults on command and an independent ledger. Commands come on standard input: type help. Ends with quit, the end of its input, or Ctrl+C. Example: edgeguard plant --profile N-1,A-1, then: fault blower-stop N-1";

    private static readonly Option<string> Profile = new("--profile") { Description = "Units to play, separated by commas: N-1, A-1, T-40.", DefaultValueFactory = _ => "N-1,A-1" };

    private static readonly Option<int> Port = new("--port") { Description = "TCP port of the first unit on 127.0.0.1, the next ones follow; 0 takes free ones.", DefaultValueFactory = _ => 15020 };

    private static readonly Option<bool> RtuOverTcp = new("--rtu-over-tcp") { Description = "The ports speak RTU frames inside the connection, as a serial device server in raw mode does, in place of Modbus TCP." };

    private static readonly Option<string?> Serial = new("--serial") { Description = "Serial ports on which the units also answer, separated by commas in the order of the units: /dev/ttyUSB0. For a pair of virtual ports: socat pty,raw,echo=0,link=/tmp/plant pty,raw,echo=0,link=/tmp/guard" };

    private static readonly Option<int> Baud = new("--baud") { Description = "Bit rate of the serial ports; even parity, one stop bit.", DefaultValueFactory = _ => 19_200 };

    private static readonly Option<string?> Ledger = new("--ledger") { Description = "File for the ledger, JSON lines, rewritten at each `ledger` and at the end." };

    private static readonly Option<string?> Trace = new("--trace") { Description = "File to which true values are appended once a second, CSV." };

    private static readonly Option<bool> Conducted = new("--conducted") { Description = "Time moves only by `advance MS` on standard input." };

    private static readonly Option<string?> Start = new("--start") { Description = "The plant's clock at its start, ISO 8601 UTC, as 2026-01-05T06:00:00Z; now unless given." };

    private static readonly Option<bool> Quiet = new("--quiet") { Description = "No line of figures every few seconds." };

    public static Command Create()
    {
        var command = new Command("plant", Description) { Profile, Port, RtuOverTcp, Serial, Baud, Ledger, Trace, Conducted, Start, Quiet };
        command.SetAction(parsed => TryBuild(parsed, out PlantOptions? options, out string error) ? Run(options!) : Complain(error, ExitCode.Usage));
        return command;
    }

    private static bool TryBuild(ParseResult parsed, out PlantOptions? options, out string error)
    {
        options = null;
        if (!TryProfiles(parsed.GetValue(Profile)!, out List<PlantProfile> profiles, out error))
        {
            return false;
        }

        int port = parsed.GetValue(Port);
        if (port < 0 || (port != 0 && port + profiles.Count - 1 > 65535))
        {
            error = $"--port: found {port}; expected 0, or 1 to {65536 - profiles.Count} so that each unit has one; try --port 15020";
            return false;
        }

        string[] serial = parsed.GetValue(Serial)?.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries) ?? [];
        int baud = parsed.GetValue(Baud);
        if (serial.Length > profiles.Count || !SerialLineOptions.BaudRates.Contains(baud))
        {
            error = serial.Length > profiles.Count
                ? $"--serial: found {serial.Length} ports for {profiles.Count} units; expected one a unit at most; try --serial {serial[0]}"
                : $"--baud: found {baud}; expected one of {string.Join(", ", SerialLineOptions.BaudRates)}; try --baud 19200";
            return false;
        }

        DateTime startUtc = DateTime.UtcNow;
        if (parsed.GetValue(Start) is { } text && !DateTime.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out startUtc))
        {
            error = $"--start: found '{text}'; expected a date and time in UTC; try --start 2026-01-05T06:00:00Z";
            return false;
        }

        bool conducted = parsed.GetValue(Conducted);
        options = new PlantOptions
        {
            Profiles = profiles,
            Port = port,
            IsRtuOverTcp = parsed.GetValue(RtuOverTcp),
            SerialPorts = serial,
            BaudRate = baud,
            StartUtc = startUtc,
            LedgerFile = parsed.GetValue(Ledger),
            TraceFile = parsed.GetValue(Trace),
            Conducted = conducted,
            LiveLine = !conducted && !parsed.GetValue(Quiet) && !Console.IsOutputRedirected,
        };
        return true;
    }

    private static bool TryProfiles(string text, out List<PlantProfile> profiles, out string error)
    {
        profiles = [];
        error = string.Empty;
        foreach (string name in text.Split(',', StringSplitOptions.TrimEntries))
        {
            if (!PlantProfiles.TryFind(name, out PlantProfile? profile))
            {
                error = $"--profile: found '{name}'; expected names from {string.Join(", ", PlantProfiles.All.Select(p => p.Name))}; try --profile N-1,A-1";
                return false;
            }

            if (profiles.Contains(profile))
            {
                error = $"--profile: found '{name}' twice; expected each unit once; try --profile N-1,A-1";
                return false;
            }

            profiles.Add(profile);
        }

        return true;
    }

    private static int Run(PlantOptions options)
    {
        try
        {
            using var process = new PlantProcess(options, Console.Out);
            process.Run(Console.In);
            return ExitCode.Good;
        }
        catch (SocketException e) when (e.SocketErrorCode == SocketError.AddressAlreadyInUse)
        {
            return Complain($"a port from {options.Port} to {options.Port + options.Profiles.Count - 1} is in use by another program; try --port 0, or end the other plant", ExitCode.Unavailable);
        }
        catch (SocketException e)
        {
            return Complain($"cannot listen on 127.0.0.1 from port {options.Port}: {e.Message}; try --port 0", ExitCode.Unavailable);
        }
        catch (LinkOpenException e)
        {
            return Complain($"--serial: {e.Message}", ExitCode.Unavailable);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Complain($"--ledger or --trace: {e.Message}; try a file in a folder that exists and may be written", ExitCode.Unavailable);
        }
    }

    private static int Complain(string message, int exitCode)
    {
        Console.Error.WriteLine("edgeguard plant: " + message);
        return exitCode;
    }
}
