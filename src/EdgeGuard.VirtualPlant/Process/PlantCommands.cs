using System.Globalization;
using System.Text.Json;
using EdgeGuard.VirtualPlant.Cabinets;
using EdgeGuard.VirtualPlant.Faults;
using EdgeGuard.VirtualPlant.Ledger;

namespace EdgeGuard.VirtualPlant.Process;

/// <summary>
/// The command lines the plant takes on standard input. Every line gets exactly one line as answer, so that a program
/// can conduct it; a line that cannot be carried out is answered `error: …` with what to try, and changes nothing.
/// </summary>
public sealed class PlantCommands
{
    /// <summary>Longest time one `advance` may ask for, ms.</summary>
    public const int AdvanceMaxMs = 3_600_000;

    private const string Help = "commands: fault NAME UNIT [ARG] | clear NAME|all UNIT | key UNIT local|supervised | state [UNIT] | ledger [UNIT] | help [faults] | quit";

    private readonly Plant _plant;

    private readonly bool _conducted;

    private readonly string? _ledgerFile;

    private readonly Func<Cabinet, string?> _linkFaultsChanged;

    /// <summary>Makes the interpreter.</summary>
    /// <param name="plant">The plant commanded.</param>
    /// <param name="conducted">True when `advance` is allowed.</param>
    /// <param name="ledgerFile">File rewritten by `ledger`; null for none.</param>
    /// <param name="linkFaultsChanged">Told after faults of a cabinet changed, without any lock held; returns an answer of its own when that went wrong.</param>
    public PlantCommands(Plant plant, bool conducted, string? ledgerFile, Func<Cabinet, string?> linkFaultsChanged)
    {
        _plant = plant;
        _conducted = conducted;
        _ledgerFile = ledgerFile;
        _linkFaultsChanged = linkFaultsChanged;
    }

    /// <summary>True once `quit` was answered.</summary>
    public bool QuitAsked { get; private set; }

    /// <summary>Carries out one line and returns its one line of answer.</summary>
    public string Execute(string line)
    {
        ArgumentNullException.ThrowIfNull(line);
        string[] words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return (words.Length == 0 ? string.Empty : words[0].ToLowerInvariant()) switch
        {
            "advance" => Advance(words),
            "fault" => Fault(words),
            "clear" => Clear(words),
            "key" => Key(words),
            "state" => State(words),
            "ledger" => Ledger(words),
            "help" => words.Length > 1 ? "faults: " + FaultNames.All : (_conducted ? Help.Replace("commands: ", "commands: advance MS | ", StringComparison.Ordinal) : Help),
            "quit" => Quit(),
            "" => "error: empty line; try: help",
            _ => $"error: unknown command '{words[0]}'; try: help",
        };
    }

    private static string Invalid(string what, string tryThis) => $"error: {what}; try: {tryThis}";

    private string Advance(string[] words)
    {
        if (!_conducted)
        {
            return Invalid("time moves by itself in real time", "start with --conducted");
        }

        if (words.Length != 2 || !int.TryParse(words[1], NumberStyles.None, CultureInfo.InvariantCulture, out int ms) || ms is < 1 or > AdvanceMaxMs)
        {
            return Invalid($"advance takes whole milliseconds from 1 to {AdvanceMaxMs}", "advance 100");
        }

        _plant.Advance(ms);
        return $"at {_plant.NowMs}";
    }

    private string Fault(string[] words)
    {
        if (words.Length is < 3 or > 4)
        {
            return Invalid("fault takes a name, a unit and for some an argument", "fault blower-stop " + FirstUnit());
        }

        if (!FaultNames.TryParse(words[1], out FaultKind kind))
        {
            return UnknownFault(words[1]);
        }

        if (_plant.Find(words[2]) is not { } cabinet)
        {
            return UnknownUnit(words[2]);
        }

        (double low, double high, double argument) = FaultNames.Argument(kind);
        if (words.Length == 4 && (!double.TryParse(words[3], NumberStyles.Float, CultureInfo.InvariantCulture, out argument) || !(argument >= low && argument <= high)))
        {
            return low > high
                ? Invalid($"{words[1]} takes no argument", $"fault {words[1]} {words[2]}")
                : Invalid(string.Create(CultureInfo.InvariantCulture, $"'{words[3]}' is no number from {low} to {high}"), string.Create(CultureInfo.InvariantCulture, $"fault {words[1]} {words[2]} {high}"));
        }

        lock (cabinet.Gate)
        {
            cabinet.Faults.Set(kind, argument);
        }

        return _linkFaultsChanged(cabinet) ?? $"ok fault {words[1].ToLowerInvariant()} {cabinet.Profile.Name} at {_plant.NowMs}";
    }

    private string Clear(string[] words)
    {
        if (words.Length != 3)
        {
            return Invalid("clear takes a name (or all) and a unit", "clear all " + FirstUnit());
        }

        bool all = string.Equals(words[1], "all", StringComparison.OrdinalIgnoreCase);
        FaultKind kind = FaultKind.None;
        if (!all && !FaultNames.TryParse(words[1], out kind))
        {
            return UnknownFault(words[1]);
        }

        if (_plant.Find(words[2]) is not { } cabinet)
        {
            return UnknownUnit(words[2]);
        }

        lock (cabinet.Gate)
        {
            if (all)
            {
                cabinet.Faults.ClearAll();
            }
            else
            {
                cabinet.Faults.Clear(kind);
            }
        }

        return _linkFaultsChanged(cabinet) ?? $"ok clear {words[1].ToLowerInvariant()} {cabinet.Profile.Name} at {_plant.NowMs}";
    }

    private string Key(string[] words)
    {
        if (words.Length != 3 || !Enum.TryParse(words[2], ignoreCase: true, out KeyPosition position) || !Enum.IsDefined(position) || char.IsAsciiDigit(words[2][0]))
        {
            return Invalid("key takes a unit and local or supervised", $"key {FirstUnit()} supervised");
        }

        if (_plant.Find(words[1]) is not { } cabinet)
        {
            return UnknownUnit(words[1]);
        }

        lock (cabinet.Gate)
        {
            cabinet.TurnKey(position);
        }

        return $"ok key {cabinet.Profile.Name} {words[2].ToLowerInvariant()} at {_plant.NowMs}";
    }

    private string State(string[] words)
    {
        PlantTruth truth = _plant.Truth();
        if (words.Length == 1)
        {
            return JsonSerializer.Serialize(truth, PlantJson.Default.PlantTruth);
        }

        return truth.Units.FirstOrDefault(u => string.Equals(u.Unit, words[1], StringComparison.OrdinalIgnoreCase)) is { } unit
            ? JsonSerializer.Serialize(unit, PlantJson.Default.CabinetTruth)
            : UnknownUnit(words[1]);
    }

    private string Ledger(string[] words)
    {
        LedgerReport report = _plant.ReportLedger();
        UnitLedgerReport? unit = words.Length == 1 ? null : report.Units.FirstOrDefault(u => string.Equals(u.Unit, words[1], StringComparison.OrdinalIgnoreCase));
        if (words.Length > 1 && unit is null)
        {
            return UnknownUnit(words[1]);
        }

        if (_ledgerFile is not null)
        {
            try
            {
                LedgerFile.Write(_ledgerFile, report);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                return Invalid($"ledger file {_ledgerFile}: {e.Message}", "free the disk or start with another --ledger");
            }
        }

        return unit is null
            ? JsonSerializer.Serialize(report, PlantJson.Default.LedgerReport)
            : JsonSerializer.Serialize(unit, PlantJson.Default.UnitLedgerReport);
    }

    private string Quit()
    {
        QuitAsked = true;
        return $"bye at {_plant.NowMs}";
    }

    private string UnknownUnit(string name) => Invalid($"no unit '{name}'", string.Join(" or ", _plant.Cabinets.Select(c => c.Profile.Name)));

    private static string UnknownFault(string name) => Invalid($"no fault '{name}'", FaultNames.All);

    private string FirstUnit() => _plant.Cabinets[0].Profile.Name;
}
