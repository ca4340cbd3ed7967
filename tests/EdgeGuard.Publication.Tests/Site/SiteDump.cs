using System.Globalization;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.Publication.Tests.Site;

/// <summary>
/// The nodes of a site as text: what <see cref="SpaceDump"/> writes, and behind it what stands in properties and what
/// people read of a node. Values that change while the guard runs are left out.
/// </summary>
internal static class SiteDump
{
    private const ushort SiteNamespace = 2;

    public static string Of(NodeSpace space)
    {
        using var plain = new StringWriter { NewLine = "\n" };
        SpaceDump.Write(space, SiteNamespace, plain);
        string[] lines = plain.ToString().TrimEnd('\n').Split('\n');
        Node[] nodes = [.. space.Snapshot().Where(static n => n.NodeId.NamespaceIndex == SiteNamespace).OrderBy(static n => n.NodeId.Text, StringComparer.Ordinal)];
        Assert.Equal(nodes.Length, lines.Length);
        return string.Concat(lines.Zip(nodes, static (line, node) => $"{line}{Value(node)}{Description(node)}\n"));
    }

    private static string Description(Node node) => string.IsNullOrEmpty(node.Description.Text) ? "" : $" \"{node.Description.Text}\"";

    private static string Value(Node node)
    {
        if (node is not VariableNode variable || variable.TypeDefinition?.NodeId.IsStandard(StandardIds.PropertyType) != true)
        {
            return "";
        }

        variable.Sample(out DataValue value);
        return " = " + (value.Value.Elements is { } elements ? string.Join(", ", elements.Cast<object>().Select(Text)) : Text(value.Value));
    }

    private static string Text(object? value) => value switch
    {
        Variant { AsExtensionObject: { } item } => Structure(item),
        Variant { Type: BuiltInType.LocalizedText } text => text.AsLocalizedText.Text ?? "",
        Variant { AsString: { } text } => text,
        ExtensionObject item => Structure(item),
        LocalizedText text => text.Text ?? "",
        Variant other => throw new InvalidOperationException($"a property of type {other.Type} has no text yet"),
        _ => Convert.ToString(value, CultureInfo.InvariantCulture) ?? "",
    };

    private static string Structure(ExtensionObject item)
    {
        if (item.TryDecode(UaLimits.Default, out EUInformation? unit) == StatusCode.Good)
        {
            return string.Create(CultureInfo.InvariantCulture, $"{unit!.DisplayName.Text} ({unit.UnitId})");
        }

        if (item.TryDecode(UaLimits.Default, out OpcUa.Messages.Range range) == StatusCode.Good)
        {
            return string.Create(CultureInfo.InvariantCulture, $"{range.Low} to {range.High}");
        }

        Assert.Equal(StatusCode.Good, item.TryDecode(UaLimits.Default, out Argument? argument));
        return $"{argument!.Name} ({argument.Description.Text})";
    }
}
