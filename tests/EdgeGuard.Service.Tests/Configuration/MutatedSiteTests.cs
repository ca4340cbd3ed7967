using System.Text;
using CsCheck;
using EdgeGuard.Service.Configuration;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>Damaged sites: the loader never throws and never gives a site together with faults, or neither.</summary>
public sealed class MutatedSiteTests
{
    private static readonly string[] Files = ["site.json", "cabinet.csv", "meter.csv"];

    private static readonly string[] Scraps =
    [
        "", "\"", "{", "}", "[", "]", ",", ":", "null", "true", "-1", "1e999", "NaN", "0", "\"\\ud800\"", "\"name\"", "//", "#", "\n", "\r",
        "\0", "\u00ff", "\u2028", "65536", "holding", "f32", "CDAB", "rw", "no", "-", "../x.csv", "\"units\": 3,", "\"elem\": null,",
    ];

    private static readonly Gen<(int File, int Place, int Cut, int Scrap)> Mutation =
        Gen.Select(Gen.Int[0, 2], Gen.Int[0, 8_000], Gen.Int[0, 12], Gen.Int[0, 32]);

    [Trait("requirement", "CONF-2")]
    [Fact]
    public void Cut_and_pasted_scraps_never_crash_the_loader()
    {
        int refused = 0;
        Mutation.Array[1, 4].Sample(
            mutations =>
            {
                using var site = new TemporarySite(SiteFolders.PilotHall);
                foreach (var mutation in mutations)
                {
                    string file = Files[mutation.File];
                    string text = site.Read(file);
                    int place = mutation.Place % text.Length;
                    int cut = Math.Min(mutation.Cut, text.Length - place);
                    site.Write(file, Encoding.UTF8.GetBytes(text[..place] + Scraps[mutation.Scrap] + text[(place + cut)..]));
                }

                Interlocked.Add(ref refused, Judge(site.Folder));
            },
            iter: 400,
            threads: 1);
        Assert.InRange(refused, 100, 400);
    }

    [Trait("requirement", "CONF-2")]
    [Fact]
    public void Any_bytes_in_any_file_never_crash_the_loader()
    {
        Gen.Select(Gen.Int[0, 2], Gen.Byte.Array[0, 300]).Sample(
            (file, bytes) =>
            {
                using var site = new TemporarySite(SiteFolders.Minimal);
                site.Write(Files[file], bytes);
                Assert.Equal(1, Judge(site.Folder));
            },
            iter: 200,
            threads: 1);
    }

    [Fact]
    public void A_flood_of_faults_is_cut_off_and_said_so()
    {
        using var site = new TemporarySite(SiteFolders.Minimal);
        site.Write("site.json", Encoding.UTF8.GetBytes("{" + string.Concat(Enumerable.Range(0, 5_000).Select(i => $"\"k{i}\":0,")) + "}"));

        SiteLoadResult result = SiteLoader.Load(site.Folder);

        Assert.Equal(1_001, result.Faults.Count);
        Assert.Contains(result.Faults, f => f.What == "there are more than 1000 faults");
    }

    [Fact]
    public void A_file_beyond_the_size_limit_is_refused_unread()
    {
        using var site = new TemporarySite(SiteFolders.Minimal);
        site.Write("site.json", new byte[(1 << 20) + 1]);

        Assert.Contains("larger than 1048576 bytes", Assert.Single(SiteLoader.Load(site.Folder).Faults).What, StringComparison.Ordinal);
    }

    [Fact]
    public void A_flipped_byte_never_crashes_the_loader()
    {
        Gen.Select(Gen.Int[0, 2], Gen.Int[0, 8_000], Gen.Int[0, 7]).Sample(
            (file, place, bit) =>
            {
                using var site = new TemporarySite(SiteFolders.PilotHall);
                byte[] bytes = File.ReadAllBytes(Path.Combine(site.Folder, Files[file]));
                bytes[place % bytes.Length] ^= (byte)(1 << bit);
                site.Write(Files[file], bytes);
                Judge(site.Folder);
            },
            iter: 300,
            threads: 1);
    }

    /// <summary>1 when the site was refused. The exclusive-or is checked here and once more by the result itself.</summary>
    private static int Judge(string folder)
    {
        SiteLoadResult result = SiteLoader.Load(folder);
        Assert.NotEqual(result.Site is null, result.Faults.Count == 0);
        foreach (SiteFault fault in result.Faults)
        {
            Assert.True(fault.Line >= 1 && fault.Column >= 1, fault.ToString());
            Assert.DoesNotContain('\n', fault.ToString());
            Assert.NotEmpty(fault.Found);
            Assert.NotEmpty(fault.Try);
        }

        return result.Site is null ? 1 : 0;
    }
}
