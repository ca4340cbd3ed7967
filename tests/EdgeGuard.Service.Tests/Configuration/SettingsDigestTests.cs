using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using EdgeGuard.Core.Electrical;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.ReactionTimes;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>The digest covers every setting that decides: each property of each record is changed in turn.</summary>
public sealed class SettingsDigestTests
{
    /// <summary>Properties that hold further records (changed on their own) or text for messages.</summary>
    private static readonly string[] NotLeaves =
        ["Units", "Signals", "Commands", "Flow", "Elem", "Outl", "Nors", "Resd", "Cool", "Bypass", "Force", "Shelf", "Voting", "Sens", "Model", "Phas", "Leak", "Bala", "Balance", "BlockWordCounts", "Description", "HardwiredDevice", "ProofTest", "ProofTestWaiver", "WatchdogBridge", "Spans", "AnswerDelayMs", "Reaction", "Budgets", "SharedWithControl", "Security", "EqualityContract"];

    [Fact]
    public void The_digest_is_the_sha256_of_the_settings_text()
    {
        SiteConfiguration site = Load(SiteFolders.PilotHall);

        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(site.SettingsText))), site.SettingsDigest);
    }

    [Fact]
    public void Comments_order_and_folder_do_not_change_the_digest()
    {
        string digest = Load(SiteFolders.PilotHall).SettingsDigest;
        using var copy = new TemporarySite(SiteFolders.PilotHall);
        copy.Replace("site.json", "  \"scanMs\": 100,\n  \"dataFolder\": \"data\",", "  \"dataFolder\": \"data\", // moved\n  \"scanMs\": 100,");

        Assert.Equal(digest, Load(copy.Folder).SettingsDigest);
    }

    [Trait("requirement", "CONF-3")]
    [Trait("requirement", "COMP-1")]
    [Fact]
    public void Every_property_of_every_record_changes_the_digest()
    {
        SiteConfiguration site = Load(SiteFolders.PilotHall);
        UnitTable unit = site.Table.Units[0];
        SiteConfiguration WithUnit(UnitTable changed) => site with { Table = site.Table with { Units = [changed, site.Table.Units[1]] } };

        int count = Vary(site.Table, t => site with { Table = t });
        count += Vary(site.Links[1], l => site with { Links = [site.Links[0], l] });
        count += Vary(site.Blocks[0], b => site with { Blocks = [b, .. site.Blocks.Skip(1)] });
        count += Vary(site.Commands[2]!, c => site with { Commands = [c] });
        count += Vary(site.Units[0], o => site with { Units = [o, site.Units[1]] });
        count += Vary(new DatedStatement("a", new DateOnly(2026, 1, 1)), s => site with { Units = [site.Units[0] with { ProofTestWaiver = s }, site.Units[1]] });
        count += Vary(site.Units[0].Reaction, r => site with { Units = [site.Units[0] with { Reaction = r }, site.Units[1]] });
        count += Vary(unit, WithUnit);
        count += Vary(unit.Flow, f => WithUnit(unit with { Flow = f }));
        count += Vary(unit.Elem, t => WithUnit(unit with { Elem = t }));
        count += Vary(unit.Outl, t => WithUnit(unit with { Outl = t }));
        count += Vary(unit.Nors, n => WithUnit(unit with { Nors = n }));
        count += Vary(unit.Resd, r => WithUnit(unit with { Resd = r }));
        count += Vary(unit.Bypass, b => WithUnit(unit with { Bypass = b }));
        count += Vary(unit.Force, f => WithUnit(unit with { Force = f }));
        count += Vary(new ForcibleSignal(SignalRole.GasFlow, 1, 2), s => WithUnit(unit with { Force = new ForceTable { Signals = [s] } }));
        count += Vary(unit.Shelf, s => WithUnit(unit with { Shelf = s }));
        var voting = new VotingTable { Role = SignalRole.GasFlow, Scheme = VotingScheme.OneOutOfTwo, DeviationMax = 1, DeviationDelayMs = 1, DegradedMs = 1 };
        count += Vary(voting, v => WithUnit(unit with { Voting = [v] }));
        count += Vary(unit.Sens, s => WithUnit(unit with { Sens = s }));
        var model = new ModelBandTable { Points = [new ModelPoint(1, 1, 1)], BlockScans = 2, SteadyBlocks = 1, RatedPowerKw = 1 };
        count += Vary(model, m => WithUnit(unit with { Sens = new SensorTable { Model = m } }));
        var phas = new PhaseTable { Connection = HeaterConnection.Star, BlockMs = 1, HardPercent = 1, MildPercent = 1, HardDelayMs = 1, MildDelayMs = 1, NoiseAmpere = 1 };
        count += Vary(phas, p => WithUnit(unit with { Phas = p }));
        count += Vary(new LeakTable { DelayMs = 1 }, l => WithUnit(unit with { Leak = l }));
        var balance = new EnergyBalanceTable { Gas = Gas.Air, RatedPowerKw = 1, BlockScans = 2, ScanSeconds = 1, StoredKJPerK = 1, LossMaxKwPerK = 1 };
        count += Vary(balance, b => WithUnit(unit with { Bala = new BalanceTable { Balance = b } }));
        count += Vary(new BalanceTable { Balance = balance }, b => WithUnit(unit with { Bala = b }));
        count += Vary(unit.Cool, c => WithUnit(unit with { Cool = c }));
        count += Vary(unit.Signals[0], s => WithUnit(unit with { Signals = [s, .. unit.Signals.Skip(1)] }));
        count += Vary(unit.Commands[0], c => WithUnit(unit with { Commands = [c, .. unit.Commands.Skip(1)] }));
        Assert.InRange(count, 70, 200);
    }

    private static int Vary<T>(T record, Func<T, SiteConfiguration> place)
        where T : class
    {
        string before = SettingsText.Write(place(record));
        int count = 0;
        foreach (PropertyInfo property in typeof(T).GetProperties().Where(p => p.CanWrite && !NotLeaves.Contains(p.Name, StringComparer.Ordinal)))
        {
            var changed = (T)typeof(T).GetMethod("<Clone>$")!.Invoke(record, null)!;
            property.SetValue(changed, Other(property.GetValue(record), property.PropertyType));
            Assert.True(SettingsText.Write(place(changed)) != before, $"{typeof(T).Name}.{property.Name} does not change the digest.");
            IReadOnlyList<string> words = SiteComparison.Words(Sealed(place(record)), Sealed(place(changed)));
            Assert.True(words.Count > 0 && !words[0].Contains("order of the units", StringComparison.Ordinal), $"{typeof(T).Name}.{property.Name}: the comparison does not tell it.");
            count++;
        }

        Assert.NotEqual(0, count);
        return count;
    }

    private static SiteConfiguration Sealed(SiteConfiguration site)
    {
        string text = SettingsText.Write(site);
        return site with { SettingsText = text, SettingsDigest = SettingsText.Digest(text) };
    }

    private static object Other(object? value, Type type) => value switch
    {
        int number => number + 1,
        IReadOnlyList<FlowCurvePoint> => new[] { new FlowCurvePoint(20, 70) },
        IReadOnlyList<ModelPoint> => new[] { new ModelPoint(1, 1, 2) },
        IReadOnlyList<FunctionId> => new[] { FunctionId.Flow },
        double number => double.IsFinite(number) ? number + 0.1 : 1.5,
        byte number => (byte)(number + 1),
        ushort number => (ushort)(number + 1),
        bool flag => !flag,
        string text => text + "|",
        DateOnly date => date.AddDays(1),
        Enum member => Enum.GetValues(member.GetType()).Cast<object>().First(v => !v.Equals(member)),
        null when type == typeof(string) => "NiCr 80-20",
        null when type == typeof(SignalRole?) => SignalRole.Power,
        _ => throw new NotSupportedException($"{type} needs a way to be changed."),
    };

    private static SiteConfiguration Load(string folder) => SiteLoader.Load(folder).Site!;
}
