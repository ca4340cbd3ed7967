using System.Security.Cryptography;
using EdgeGuard.Core.Thermal;
using EdgeGuard.Records.Kept;
using EdgeGuard.Service.Configuration;
using EdgeGuard.Service.Guarding;
using EdgeGuard.Service.Tests.FieldIo;
using Serilog;

namespace EdgeGuard.Service.Tests.Guarding.Keeping;

/// <summary>Whole runs one after the other on one data folder, on devices in memory, conducted by text.</summary>
public sealed class KeptRunTests
{
    private static readonly SiteConfiguration Site = GuardSites.PilotHall();

    private readonly string _data = Directory.CreateTempSubdirectory("edgeguard").FullName;

    private SiteConfiguration _site = Site;

    private string N1 => Path.Combine(_data, "kept", "N-1.txt");

    [Trait("requirement", "KEEP-1")]
    [Fact]
    public void The_second_run_counts_on_and_the_journal_names_the_file_it_took()
    {
        Run("scan 1764000000000\nscan 1764000000100\n");
        Assert.Contains("\"event\":\"figures-none\"", Journal(), StringComparison.Ordinal);
        byte[] left = File.ReadAllBytes(N1);
        Assert.Contains("since 2025-11-24T16:00:00.000Z\n", File.ReadAllText(N1), StringComparison.Ordinal);
        string stated = KeptCodec.HashOf(left);
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(left.AsSpan(0, left.Length - 72))), stated); // 72: "sha256 ", 64 digits, line feed
        Assert.Contains("\"event\":\"figures-saved\"", Line("kept/N-1.txt sha256 " + stated), StringComparison.Ordinal);

        Run("scan 1764003600000\n");
        Assert.Contains("\"event\":\"figures-taken\"", Journal().Split('\n').Last(l => l.Contains(stated, StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.True(KeptCodec.TryRead(File.ReadAllBytes(N1), out KeptRecord? record, out string fault), fault);
        Assert.Equal(2, record!.Counts[1].Demands); // START demands once a run
        Assert.Equal(1_764_000_000_000, record.SinceUtcMs);
        Assert.InRange(record.SavedUtcMs, 1_764_003_600_000, 1_764_003_610_000);
    }

    [Trait("requirement", "KEEP-2")]
    [Theory]
    [InlineData("cut")]
    [InlineData("changed")]
    [InlineData("other unit")]
    [InlineData("folder")]
    public void Damaged_figures_count_from_zero_with_a_line_that_says_so_and_never_keep_the_guard_from_guarding(string damage)
    {
        Run("scan 1764000000000\n");
        byte[] left = File.ReadAllBytes(N1);
        switch (damage)
        {
            case "cut": File.WriteAllBytes(N1, left[..200]); break;
            case "changed": left[100] ^= 1; File.WriteAllBytes(N1, left); break;
            case "other unit": File.Copy(Path.Combine(_data, "kept", "A-1.txt"), N1, overwrite: true); break;
            default: Directory.Delete(Path.Combine(_data, "kept"), recursive: true); File.WriteAllText(Path.Combine(_data, "kept"), "a file where the folder was"); break;
        }

        Assert.Equal(GuardEnd.Stopped, Run("scan 1764003600000\n"));
        string journal = Journal();
        if (damage == "folder")
        {
            Assert.Contains("\"event\":\"figures-failed\"", journal, StringComparison.Ordinal);
            return;
        }

        Assert.Contains("\"event\":\"figures-damaged\",\"unit\":\"N-1\"", journal.Replace("\"name\"", "\"unit\"", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.True(File.Exists(N1 + ".damaged"));
        Assert.True(KeptCodec.TryRead(File.ReadAllBytes(N1), out KeptRecord? record, out string fault), fault);
        Assert.Equal((1, 1_764_003_600_000), (record!.Counts[1].Demands, record.SinceUtcMs));
    }

    [Trait("requirement", "KEEP-4")]
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_learnt_loss_goes_on_only_on_the_basis_it_was_learnt_on(bool same)
    {
        using var copy = new Configuration.TemporarySite(Site.Folder);
        copy.Replace("site.json", "\"phas\": { \"connection\": \"star\" }, // lost phase, open leg; judged over two firing cycles", "\"phas\": { \"connection\": \"star\" }, \"bala\": { \"storedHeatKjPerK\": 4, \"lossMaxKwPerK\": 0.01 },");
        _site = SiteLoader.Load(copy.Folder, new SiteLoadOptions { Today = new DateOnly(2026, 3, 1) }).Site!;
        Run("scan 1764000000000\n");
        string basis = GuardPlanBuilder.Build(_site).Bases[0].Loss;
        Assert.True(KeptCodec.TryRead(File.ReadAllBytes(N1), out KeptRecord? record, out string fault), fault);
        Assert.Equal(basis, record!.LossBasis);
        record.Loss = new LearntLoss(30, 0.001, 1e-8);
        record.LossBasis = same ? basis : new string('0', 64);
        var codec = new KeptCodec();
        codec.Write(record);
        new KeptStore(Path.Combine(_data, "kept")).Write("N-1", codec.Written);

        Run("scan 1764003600000\n");
        Assert.Equal(!same, Journal().Contains("\"event\":\"learnt-discarded\"", StringComparison.Ordinal));
        Assert.True(KeptCodec.TryRead(File.ReadAllBytes(N1), out record, out fault), fault);
        Assert.Equal((same ? 0.001 : 0, basis), (record!.Loss.KwPerK, record.LossBasis));
    }

    // As a kill leaves it: the folder as it is while the guard runs, taken at any moment.
    [Trait("requirement", "KEEP-2")]
    [Fact]
    public void What_a_run_saves_by_the_way_is_whole_at_every_moment()
    {
        string folder = Path.Combine(_data, "kept");
        var store = new KeptStore(folder);
        var codec = new KeptCodec();
        var record = new KeptRecord { Site = "s", Unit = "N-1" };
        using var stop = new CancellationTokenSource();
        var writer = new Thread(() =>
        {
            while (!stop.IsCancellationRequested)
            {
                record.TripCount++;
                codec.Write(record);
                store.Write("N-1", codec.Written);
            }
        });
        writer.Start();
        try
        {
            int read = 0;
            int last = 0;
            while (read < 200 || last < 20) // on a slow disk two hundred reads fit between two writes
            {
                if (store.TryRead("N-1", out KeptRecord? seen, out _, out string fault))
                {
                    Assert.True(seen!.TripCount >= last, "an older file came back");
                    last = seen.TripCount;
                    read++;
                }

                Assert.Equal("", fault);
            }
        }
        finally
        {
            stop.Cancel();
            writer.Join();
        }
    }

    private string Journal() => File.ReadAllText(Path.Combine(_data, "journal", "journal-000001.log"));

    private string Line(string part) => Journal().Split('\n').Single(l => l.Contains(part, StringComparison.Ordinal));

    private GuardEnd Run(string commands)
    {
        using var log = new LoggerConfiguration().CreateLogger();
        return GuardHost.Run(GuardPlanBuilder.Build(_site) with { DataFolder = _data }, new GuardOptions
        {
            Version = "test",
            Log = log,
            Conductor = ConductedConsole.Open(new StringReader(commands), new StringWriter()),
            LinkFactory = static _ => new FakeLink(),
        });
    }
}
