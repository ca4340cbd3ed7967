using System.Xml.Linq;

namespace EdgeGuard.Architecture.Tests;

/// <summary>
/// Dependencies point inward only. The table below is the whole truth: a project or a reference that is not in it
/// fails, and so does a row whose project is gone.
/// </summary>
public sealed class RingTests
{
    private static readonly Dictionary<string, string[]> Allowed = new(StringComparer.Ordinal)
    {
        ["EdgeGuard.Core"] = [],
        ["EdgeGuard.Modbus"] = [],
        ["EdgeGuard.OpcUa"] = [],
        ["EdgeGuard.Records"] = ["EdgeGuard.Core"],
        // The publisher knows the guard by its files and its socket only; it needs no part of the guard's shell.
        ["EdgeGuard.Publication"] = ["EdgeGuard.Core", "EdgeGuard.OpcUa", "EdgeGuard.Records"],
        ["EdgeGuard.Reports"] = ["EdgeGuard.Core", "EdgeGuard.Records"],
        ["EdgeGuard.Service"] = ["EdgeGuard.Core", "EdgeGuard.Modbus", "EdgeGuard.Records"],
        // The judge must not share code with what it judges: the plant knows no Core, only the wire.
        ["EdgeGuard.VirtualPlant"] = ["EdgeGuard.Modbus"],
        ["EdgeGuard"] = ["EdgeGuard.Core", "EdgeGuard.Modbus", "EdgeGuard.Publication", "EdgeGuard.Records", "EdgeGuard.Reports", "EdgeGuard.Service", "EdgeGuard.VirtualPlant"],
    };

    // Rings that decide or speak on the wire carry no package at all; the one exception has its decision (docs/adr/0004).
    private static readonly string[] WithoutPackages = ["EdgeGuard.Core", "EdgeGuard.OpcUa", "EdgeGuard.Publication", "EdgeGuard.Records", "EdgeGuard.VirtualPlant"];

    [Trait("requirement", "PLNT-1")]
    [Fact]
    public void Every_project_references_only_inner_rings()
    {
        string src = Path.Combine(RepoFolder.Root, "src");
        var projects = Directory.GetFiles(src, "*.csproj", SearchOption.AllDirectories).ToDictionary(f => Path.GetFileNameWithoutExtension(f)!, XDocument.Load, StringComparer.Ordinal);
        Assert.Equal(Allowed.Keys.Order(StringComparer.Ordinal), projects.Keys.Order(StringComparer.Ordinal));
        foreach ((string name, XDocument project) in projects)
        {
            string[] outside = References(project, "ProjectReference").Select(p => Path.GetFileNameWithoutExtension(p.Replace('\\', '/'))).Except(Allowed[name], StringComparer.Ordinal).ToArray();
            Assert.True(outside.Length == 0, $"{name} references {string.Join(", ", outside)}, which is not an inner ring");
        }
    }

    [Fact]
    public void Core_and_protocol_rings_use_no_package()
    {
        foreach (string name in WithoutPackages)
        {
            XDocument project = XDocument.Load(Path.Combine(RepoFolder.Root, "src", name, name + ".csproj"));
            Assert.Empty(References(project, "PackageReference"));
        }

        XDocument modbus = XDocument.Load(Path.Combine(RepoFolder.Root, "src", "EdgeGuard.Modbus", "EdgeGuard.Modbus.csproj"));
        Assert.Equal(["System.IO.Ports"], References(modbus, "PackageReference"));
    }

    private static IEnumerable<string> References(XDocument project, string element) =>
        project.Descendants(element).Select(e => (string?)e.Attribute("Include") ?? "");
}
