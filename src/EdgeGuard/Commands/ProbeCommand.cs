using System.CommandLine;
using System.Globalization;
using System.Net.Sockets;
using EdgeGuard.Modbus;
using EdgeGuard.Modbus.Client;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Probing;

namespace EdgeGuard.Commands;

/// <summary>
/// `edgeguard probe`: what do these registers mean? Reads an explicit range of one device, slowly, and shows it in every
/// type and order; or takes the snapshot of a device's settings. It never writes to a device.
/// </summary>
internal static class ProbeCommand
{
    private const string Description = "Find out what registers mean: read an explicit range of one device, slowly, and show it in every type and word order. Never writes. Example: edgeguard probe 127.0.0.1:15020 --unit-id 1 --table input --from 0 --count 12 --expect 21.5 --within 0.5";
    private const int DefaultPort = 502;
    private const double MostRequestsPerSecond = 50;
    private const int HighestSerialUnitId = 247; // Modbus over serial line V1.02, 2.2

    private static readonly Argument<string?> Target = new("TARGET") { Description = "HOST or HOST:PORT (Modbus TCP), or a serial port as /dev/ttyUSB0.", Arity = ArgumentArity.ZeroOrOne };
    private static readonly Option<string?> Site = new("--site") { Description = "Site folder: probe a device of it by name instead of TARGET." };
    private static readonly Option<string?> Device = new("--device") { Description = "Device of the site." };
    private static readonly Option<string?> Snapshot = new("--snapshot") { Description = "Take the settings of the device (role \"setting\" of its map) and write them to this file of the site folder." };
    private static readonly Option<bool> Force = new("--force") { Description = "Replace a snapshot or a map that is there." };
    private static readonly Option<bool> RtuTcp = new("--rtu-tcp") { Description = "RTU frames through TCP, as a serial device server passes them on." };
    private static readonly Option<int> Baud = new("--baud") { Description = "Rate of the serial port.", DefaultValueFactory = _ => 19_200 };
    private static readonly Option<string> Parity = new("--parity") { Description = "Parity of the serial port: even, none, odd.", DefaultValueFactory = _ => "even" };
    private static readonly Option<int> UnitId = new("--unit-id") { Description = "Modbus unit id, 0 to 255.", DefaultValueFactory = _ => 1 };
    private static readonly Option<string> Table = new("--table") { Description = "holding or input.", DefaultValueFactory = _ => "holding" };
    private static readonly Option<int?> From = new("--from") { Description = "First register, zero-based protocol address: 40001 is 0." };
    private static readonly Option<int?> Count = new("--count") { Description = "Number of registers, 1 to 1000." };
    private static readonly Option<int> Chunk = new("--chunk") { Description = "Registers of one request, 1 to 125.", DefaultValueFactory = _ => 16 };
    private static readonly Option<double> Rate = new("--rate") { Description = "Requests a second at most, up to 50.", DefaultValueFactory = _ => 5 };
    private static readonly Option<int> Rounds = new("--rounds") { Description = "How often the range is read, 1 to 1000; shows jitter and what changes.", DefaultValueFactory = _ => 3 };
    private static readonly Option<int> AnswerMs = new("--answer-ms") { Description = "Time limit of one answer, ms.", DefaultValueFactory = _ => 1_000 };
    private static readonly Option<double?> Expect = new("--expect") { Description = "A value known from elsewhere, as the cabinet's display shows it: readings that fit are marked." };
    private static readonly Option<double> Within = new("--within") { Description = "Distance from --expect that still counts as the same.", DefaultValueFactory = _ => 0.5 };
    private static readonly Option<string?> WriteMap = new("--write-map") { Description = "Write a starting register map to this file." };

    public static Command Create()
    {
        var command = new Command("probe", Description)
        {
            Target, Site, Device, Snapshot, Force, RtuTcp, Baud, Parity, UnitId, Table, From, Count, Chunk, Rate, Rounds, AnswerMs, Expect, Within, WriteMap,
        };
        command.SetAction(Run);
        return command;
    }

    private static int Run(ParseResult parsed)
    {
        try
        {
            return parsed.GetValue(Snapshot) is { } file ? TakeSnapshot(parsed, file) : ReadRange(parsed);
        }
        catch (SocketException e)
        {
            return Complain($"no connection: {e.Message}; is the address right, does the device serve one client only and a guard is connected?", ExitCode.Unavailable);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Complain(e.Message, ExitCode.Unavailable);
        }
    }

    private static int ReadRange(ParseResult parsed)
    {
        if (WhatIsWrong(parsed) is { } wrong)
        {
            return Complain(wrong, ExitCode.Usage);
        }

        LinkOptions? link = LinkOf(parsed, out byte unitId, out int exit);
        if (link is null)
        {
            return exit;
        }

        ProbeOptions options = OptionsOf(parsed, unitId, link);
        ProbeExpectation? expectation = parsed.GetValue(Expect) is { } value ? new ProbeExpectation(value, parsed.GetValue(Within)) : null;
        Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{link.Place}, unit id {unitId}: {parsed.GetValue(Table)} registers {options.First} to {options.First + options.Count - 1}, read {options.Rounds} times, {options.RequestsPerSecond} requests a second at most; nothing is written to the device"));
        using IModbusLink connection = LinkBuilder.Build(link);
        ProbeFindings findings = new RegisterProbe(connection, options, TimeProvider.System, Thread.Sleep).Run();
        ProbeText.WriteTimes(findings, Console.Out);
        if (findings.Sheet.Known == 0)
        {
            ProbeText.WriteRefused(findings, Console.Out);
            return ExitCode.Unavailable;
        }

        ProbeText.Write(findings, expectation, Console.Out);
        if (parsed.GetValue(WriteMap) is { } file && !TryWrite(file, parsed.GetValue(Force), w => MapDraft.Write(findings, $"{link.Place}, unit id {unitId}", expectation, w)))
        {
            return ExitCode.Unavailable;
        }

        bool found = expectation is not { } e || RegisterInterpreter.Matches(findings.Sheet, e.Value, e.Within).Count > 0;
        return found ? ExitCode.Good : ExitCode.Found;
    }

    private static string? WhatIsWrong(ParseResult parsed)
    {
        int last = ushort.MaxValue;
        if (parsed.GetValue(From) is not { } from || parsed.GetValue(Count) is not { } count)
        {
            return "--from and --count: found no range; expected the registers to read, since a device is never searched through; try --from 0 --count 10";
        }

        bool range = from >= 0 && count is >= 1 and <= ProbeOptions.MostRegisters && from <= last && count - 1 <= last - from;
        return range switch
        {
            false => $"--from {from} --count {count}: expected 1 to {ProbeOptions.MostRegisters} registers from 0 to {last}, zero-based protocol addresses; try --from {Math.Max(0, from > 40_000 ? from - 40_001 : 0)} --count 10",
            _ when parsed.GetValue(Table) is not ("holding" or "input") => $"--table: found '{parsed.GetValue(Table)}'; expected holding or input; try --table input",
            _ when parsed.GetValue(Parity) is not ("even" or "none" or "odd") => $"--parity: found '{parsed.GetValue(Parity)}'; expected even, none or odd; try --parity even",
            _ when parsed.GetValue(UnitId) is < 0 or > 255 => $"--unit-id: found {parsed.GetValue(UnitId)}; expected 0 to 255; try --unit-id 1",
            _ when parsed.GetValue(Site) is null && IsSerialLine(parsed) && parsed.GetValue(UnitId) is < 1 or > HighestSerialUnitId => $"--unit-id: found {parsed.GetValue(UnitId)}; expected 1 to {HighestSerialUnitId} on a serial line, where 0 is broadcast, which nobody answers; try --unit-id 1",
            _ when parsed.GetValue(Chunk) is < 1 or > 125 => $"--chunk: found {parsed.GetValue(Chunk)}; expected 1 to 125; try --chunk 16",
            _ when parsed.GetValue(Rounds) is < 1 or > 1_000 => $"--rounds: found {parsed.GetValue(Rounds)}; expected 1 to 1000; try --rounds 3",
            _ when parsed.GetValue(AnswerMs) is < 10 or > 10_000 => $"--answer-ms: found {parsed.GetValue(AnswerMs)}; expected 10 to 10000; try --answer-ms 1000",
            _ when !(parsed.GetValue(Rate) is > 0 and <= MostRequestsPerSecond) => string.Create(CultureInfo.InvariantCulture, $"--rate: found {parsed.GetValue(Rate)}; expected more than 0 and at most {MostRequestsPerSecond} requests a second; try --rate 5"),
            _ => null,
        };
    }

    private static ProbeOptions OptionsOf(ParseResult parsed, byte unitId, LinkOptions link) => new()
    {
        UnitId = unitId,
        Table = parsed.GetValue(Table) is "input" ? ModbusTable.InputRegisters : ModbusTable.HoldingRegisters,
        First = parsed.GetValue(From)!.Value,
        Count = parsed.GetValue(Count)!.Value,
        Chunk = parsed.GetValue(Chunk),
        RequestsPerSecond = parsed.GetValue(Rate),
        Rounds = parsed.GetValue(Rounds),
        ConnectMs = link.ConnectMs,
        AnswerMs = parsed.GetValue(AnswerMs),
    };

    private static LinkOptions? LinkOf(ParseResult parsed, out byte unitId, out int exit)
    {
        unitId = (byte)Math.Clamp(parsed.GetValue(UnitId), 0, 255);
        exit = ExitCode.Usage;
        if (parsed.GetValue(Site) is not null)
        {
            SiteConfiguration? site = LoadSite(parsed, out exit);
            DeviceOptions? device = site is null ? null : FindDevice(site, parsed, out exit);
            unitId = device?.UnitId ?? unitId;
            return device is null ? null : site!.Links[device.LinkIndex];
        }

        if (parsed.GetValue(Target) is not { Length: > 0 } target)
        {
            Complain("found neither TARGET nor --site; expected where the device is; try edgeguard probe 192.168.1.10 --from 0 --count 10", exit);
            return null;
        }

        return IsSerialPort(target) ? SerialLink(parsed, target) : NetworkLink(parsed, target);
    }

    private static bool IsSerialLine(ParseResult parsed) => parsed.GetValue(RtuTcp) || IsSerialPort(parsed.GetValue(Target) ?? string.Empty);

    private static bool IsSerialPort(string target) => target.StartsWith('/') || target.StartsWith("COM", StringComparison.Ordinal);

    private static LinkOptions SerialLink(ParseResult parsed, string port) => new()
    {
        Name = "probe",
        Transport = LinkTransport.Serial,
        Host = string.Empty,
        Port = 0,
        SerialPort = port,
        Baud = parsed.GetValue(Baud),
        Parity = parsed.GetValue(Parity) switch
        {
            "none" => LineParity.None,
            "odd" => LineParity.Odd,
            _ => LineParity.Even,
        },
        StopBits = parsed.GetValue(Parity) is "none" ? 2 : 1,
        ConnectMs = 2_000,
        AnswerMs = parsed.GetValue(AnswerMs),
        PollLeadMs = 0,
    };

    private static LinkOptions? NetworkLink(ParseResult parsed, string target)
    {
        int colon = target.LastIndexOf(':');
        int port = DefaultPort;
        bool stated = colon > 0 && target.IndexOf(':', StringComparison.Ordinal) == colon;
        if (stated && !(int.TryParse(target.AsSpan(colon + 1), NumberStyles.None, CultureInfo.InvariantCulture, out port) && port is >= 1 and <= 65_535))
        {
            Complain($"TARGET: found '{target}'; expected HOST or HOST:PORT with a port from 1 to 65535; try {target[..colon]}:{DefaultPort}", ExitCode.Usage);
            return null;
        }

        return new LinkOptions
        {
            Name = "probe",
            Transport = parsed.GetValue(RtuTcp) ? LinkTransport.RtuOverTcp : LinkTransport.Tcp,
            Host = stated ? target[..colon] : target,
            Port = port,
            ConnectMs = 2_000,
            AnswerMs = parsed.GetValue(AnswerMs),
            PollLeadMs = 0,
        };
    }

    private static SiteConfiguration? LoadSite(ParseResult parsed, out int exit)
    {
        SiteLoadResult loaded = SiteLoader.Load(parsed.GetValue(Site)!, new SiteLoadOptions { WithoutSettings = parsed.GetValue(Snapshot) is not null && parsed.GetValue(Force) });
        exit = loaded.Site is null ? SiteFolder.Refuse(loaded) : ExitCode.Good;
        return loaded.Site;
    }

    private static DeviceOptions? FindDevice(SiteConfiguration site, ParseResult parsed, out int exit)
    {
        string? name = parsed.GetValue(Device);
        DeviceOptions? device = site.Devices.FirstOrDefault(d => string.Equals(d.Name, name, StringComparison.Ordinal));
        exit = device is null
            ? Complain($"--device: found {(name is null ? "nothing" : $"'{name}'")}; expected one of {string.Join(", ", site.Devices.Select(d => d.Name))}; try --device {site.Devices[0].Name}", ExitCode.Usage)
            : ExitCode.Good;
        return device;
    }

    private static int TakeSnapshot(ParseResult parsed, string file)
    {
        if (parsed.GetValue(Site) is not { } folder)
        {
            return Complain("--snapshot: found no --site; expected the site folder whose map names the settings; try --site FOLDER --device NAME --snapshot NAME-settings.csv", ExitCode.Usage);
        }

        SiteConfiguration? site = LoadSite(parsed, out int exit);
        DeviceOptions? device = site is null ? null : FindDevice(site, parsed, out exit);
        return device is null ? exit : SnapshotTask.Run(site!, device, folder, file, parsed.GetValue(Force), parsed.GetValue(Rate));
    }

    internal static bool TryWrite(string file, bool force, Action<TextWriter> write)
    {
        if (File.Exists(file) && !force)
        {
            Complain($"{file}: the file is there already; expected a new name; try another name, or --force to replace it", ExitCode.Unavailable);
            return false;
        }

        using (StreamWriter writer = new(file) { NewLine = "\n" })
        {
            write(writer);
        }

        Console.Out.WriteLine($"written: {file}");
        return true;
    }

    internal static int Complain(string message, int exitCode)
    {
        Console.Error.WriteLine("edgeguard probe: " + message);
        return exitCode;
    }
}
