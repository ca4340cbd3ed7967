using System.Text.Json;
using EdgeGuard.Service.Configuration.Schema;

namespace EdgeGuard.Service.Tests.Configuration;

/// <summary>The schema for editors and the reference page say what the loader's key table says, both ways.</summary>
public sealed class SchemaTests
{
    private static readonly JsonElement Schema = JsonDocument.Parse(File.ReadAllText(Path.Combine(SiteFolders.Root, "config", "site.schema.json"))).RootElement;

    public static TheoryData<string> Sections() => [.. SiteKeys.All.Select(s => s.Name)];

    [Fact]
    public void The_schema_has_exactly_the_sections_of_the_key_table()
    {
        Assert.Equal(
            SiteKeys.All.Select(s => s.Name).Where(n => n != "site").Order(StringComparer.Ordinal),
            Schema.GetProperty("$defs").EnumerateObject().Select(d => d.Name).Order(StringComparer.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Sections))]
    public void Keys_required_keys_ranges_and_choices_agree(string section)
    {
        SectionSpec spec = SiteKeys.All.Single(s => s.Name == section);
        JsonElement entry = section == "site" ? Schema : Schema.GetProperty("$defs").GetProperty(section);

        Assert.False(entry.GetProperty("additionalProperties").GetBoolean());
        Assert.Equal(spec.Keys.Select(k => k.Name), entry.GetProperty("properties").EnumerateObject().Select(p => p.Name));
        string[] required = entry.TryGetProperty("required", out JsonElement list) ? [.. list.EnumerateArray().Select(r => r.GetString()!)] : [];
        Assert.Equal(spec.Keys.Where(k => k.Required).Select(k => k.Name), required);
        foreach (KeySpec key in spec.Keys)
        {
            CheckKey(key, entry.GetProperty("properties").GetProperty(key.Name));
        }
    }

    [Theory]
    [MemberData(nameof(Sections))]
    public void Every_key_stands_in_the_reference_page_with_its_range(string section)
    {
        string page = File.ReadAllText(Path.Combine(SiteFolders.Root, "docs", "reference", "site-file.md"));
        foreach (KeySpec key in SiteKeys.All.Single(s => s.Name == section).Keys)
        {
            string range = key.Kind is KeyKind.Number or KeyKind.Integer ? $"{key.Min} to {key.Max}" : string.Empty;
            Assert.Contains($"| `{key.Name}` | {range}", page, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_example_sites_use_no_key_that_the_schema_lacks()
    {
        foreach (string folder in new[] { SiteFolders.PilotHall, SiteFolders.Minimal })
        {
            var options = new JsonDocumentOptions { AllowTrailingCommas = true, CommentHandling = JsonCommentHandling.Skip };
            using JsonDocument site = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "site.json")), options);
            Assert.NotInRange(CountKeys(site.RootElement, Schema), 0, 10);
        }
    }

    private static int CountKeys(JsonElement value, JsonElement schema)
    {
        if (schema.TryGetProperty("$ref", out JsonElement reference))
        {
            schema = Schema.GetProperty("$defs").GetProperty(reference.GetString()!["#/$defs/".Length..]);
        }

        return value.ValueKind switch
        {
            JsonValueKind.Array => value.EnumerateArray().Sum(item => CountKeys(item, schema.GetProperty("items"))),
            JsonValueKind.Object => value.EnumerateObject().Sum(p => 1 + CountKeys(p.Value, schema.GetProperty("properties").GetProperty(p.Name))),
            _ => 0,
        };
    }

    private static void CheckKey(KeySpec key, JsonElement property)
    {
        Assert.False(string.IsNullOrWhiteSpace(property.GetProperty("description").GetString()));
        if (key.Kind is KeyKind.Number or KeyKind.Integer)
        {
            Assert.Equal(key.Kind == KeyKind.Integer ? "integer" : "number", property.GetProperty("type").GetString());
            Assert.Equal((key.Min, key.Max), (property.GetProperty("minimum").GetDouble(), property.GetProperty("maximum").GetDouble()));
            Assert.Equal(key.Default, property.TryGetProperty("default", out JsonElement value) ? value.GetDouble() : double.NaN);
        }

        if (key.Kind == KeyKind.Choice)
        {
            Assert.Equal(key.Choices, property.GetProperty("enum").EnumerateArray().Select(c => c.GetString()!));
        }

        if (key.Child is { } child)
        {
            JsonElement holder = key.Kind == KeyKind.Sections ? property.GetProperty("items") : property;
            Assert.Equal("#/$defs/" + child.Name, holder.GetProperty("$ref").GetString());
        }
    }
}
