using System.Globalization;
using EdgeGuard.Service.Configuration.Json;
using EdgeGuard.Service.Configuration.Schema;

namespace EdgeGuard.Service.Configuration;

// One object of the site file, checked against its key table on construction. Values that are absent read as their
// default; values that are present and wrong read as NaN or null ("poisoned"), so that the rules of meaning stay
// silent about what has been reported already: every comparison with NaN is false.

/// <summary>A checked object of the site file.</summary>
internal sealed class Section
{
    private const int LongestText = 200;
    private readonly Dictionary<string, SiteNode> _valid = new(StringComparer.Ordinal);
    private readonly Dictionary<string, TextPosition> _places = new(StringComparer.Ordinal);
    private readonly SectionSpec _spec;
    private readonly FaultList _faults;
    private readonly HashSet<string> _misspelt = new(StringComparer.Ordinal);
    private readonly bool _poisoned;

    public Section(SiteNode node, SectionSpec spec, FaultList faults)
    {
        _spec = spec;
        _faults = faults;
        Place = node.At;
        Stated = true;
        if (node.Kind != SiteNodeKind.Group)
        {
            _poisoned = true;
            return;
        }

        foreach (SiteMember member in node.Members)
        {
            Take(member);
        }

        ReportMissing();
    }

    private Section(SectionSpec spec, TextPosition place, FaultList faults)
    {
        _spec = spec;
        _faults = faults;
        Place = place;
    }

    /// <summary>Where the object opens; for an absent object, where its owner opens.</summary>
    public TextPosition Place { get; }

    /// <summary>True when the object stands in the file.</summary>
    public bool Stated { get; }

    public bool Has(string key) => _places.ContainsKey(key);

    /// <summary>True when an unknown key stands in the object that probably means this one.</summary>
    public bool Misspells(string key) => _misspelt.Contains(key);

    /// <summary>Place of the key's value, or of the object when the key is absent.</summary>
    public TextPosition At(string key) => _places.TryGetValue(key, out TextPosition at) ? at : Place;

    /// <summary>The number of a key; its default, or <paramref name="otherwise"/>, when absent; NaN when wrong.</summary>
    public double Number(string key, double otherwise = double.NaN)
    {
        KeySpec spec = Spec(key);
        if (_valid.TryGetValue(key, out SiteNode? node))
        {
            return node.Number;
        }

        if (_poisoned || Has(key) || spec.Required)
        {
            return double.NaN;
        }

        return double.IsNaN(spec.Default) ? otherwise : spec.Default;
    }

    /// <summary>The text of a key; null when absent or wrong.</summary>
    public string? Text(string key)
    {
        Spec(key);
        return _valid.TryGetValue(key, out SiteNode? node) ? node.Text : null;
    }

    public bool Flag(string key)
    {
        Spec(key);
        return _valid.TryGetValue(key, out SiteNode? node) && node.Flag;
    }

    public DateOnly? Date(string key) => Text(key) is { } text ? DateOnly.ParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture) : null;

    /// <summary>A nested object; all defaults when absent.</summary>
    public Section Child(string key)
    {
        SectionSpec child = Spec(key).Child ?? throw new InvalidOperationException($"{key} is no section.");
        if (_valid.TryGetValue(key, out SiteNode? node))
        {
            return new Section(node, child, _faults);
        }

        return Has(key) || _poisoned
            ? new Section(new SiteNode { Kind = SiteNodeKind.Null, At = At(key) }, child, _faults)
            : new Section(child, Place, _faults);
    }

    public IReadOnlyList<Section> Children(string key)
    {
        SectionSpec child = Spec(key).Child ?? throw new InvalidOperationException($"{key} is no section.");
        var children = new List<Section>();
        if (_valid.TryGetValue(key, out SiteNode? node))
        {
            foreach (SiteNode item in node.Items)
            {
                if (item.Kind != SiteNodeKind.Group)
                {
                    _faults.Add(item.At, $"wrong kind of entry in \"{key}\"", item.Describe(), "an object { … }", "to put the keys of one entry in braces");
                }

                children.Add(new Section(item, child, _faults));
            }
        }

        return children;
    }

    /// <summary>What the key table says about a key.</summary>
    public KeySpec Spec(string key) => _spec.Find(key) ?? throw new InvalidOperationException($"The key table of {_spec.Name} has no {key}.");

    private void Take(SiteMember member)
    {
        KeySpec? key = _spec.Find(member.Key);
        if (key is null)
        {
            string[] names = [.. _spec.Keys.Select(k => k.Name)];
            _misspelt.Add(NearMiss.Find(member.Key, names) ?? string.Empty);
            _faults.Add(member.At, $"unknown key {Quoted.Of(member.Key)}", Quoted.Of(member.Key), "one of " + string.Join(", ", names), NearMiss.Advice(member.Key, names, "to remove it"));
            return;
        }

        if (!_places.TryAdd(key.Name, member.Value.At))
        {
            _faults.Add(member.At, $"the key \"{key.Name}\" stands twice", "a second value " + member.Value.Describe(), "each key once", "to keep one of the two");
            return;
        }

        if (IsRight(key, member.Value))
        {
            _valid.Add(key.Name, member.Value);
        }
    }

    private bool IsRight(KeySpec key, SiteNode value)
    {
        string? wrong = ValueCheck.WhatIsWrong(key, value, LongestText);
        if (wrong is null)
        {
            return true;
        }

        string advice = key.Kind == KeyKind.Choice && value.Kind == SiteNodeKind.Text
            ? ValueCheck.MeantChoice(key, value.Text) ?? NearMiss.Advice(value.Text, key.Choices, ValueCheck.Example(key))
            : ValueCheck.Advice(key, value);
        _faults.Add(value.At, $"{wrong} for \"{key.Name}\"", value.Describe(), key.Expectation, advice);
        return false;
    }

    private void ReportMissing()
    {
        foreach (KeySpec key in _spec.Keys)
        {
            if (key.Required && !Has(key.Name) && !_misspelt.Contains(key.Name))
            {
                string owner = string.Equals(_spec.Name, "site", StringComparison.Ordinal) ? "the site" : $"this entry of \"{_spec.Name}\"";
                _faults.Add(Place, $"the key \"{key.Name}\" is missing", $"no \"{key.Name}\" in {owner}", key.Expectation, ValueCheck.Example(key));
            }
        }
    }
}
