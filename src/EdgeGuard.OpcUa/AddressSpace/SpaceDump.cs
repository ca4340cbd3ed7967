using System.Globalization;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>
/// The address space as text, one node a line in the order of NodeIds, so that a change of what clients see is a diff
/// that can be reviewed. Values are left out; of the references the forward ones are shown.
/// </summary>
public static class SpaceDump
{
    /// <summary>Writes the nodes of one namespace.</summary>
    public static void Write(NodeSpace space, ushort namespaceIndex, TextWriter output)
    {
        ArgumentNullException.ThrowIfNull(space);
        ArgumentNullException.ThrowIfNull(output);
        foreach (Node node in space.Snapshot().Where(node => node.NodeId.NamespaceIndex == namespaceIndex).OrderBy(node => node.NodeId.Number).ThenBy(node => node.NodeId.Text, StringComparer.Ordinal))
        {
            output.Write(Id(node));
            output.Write($" {node.NodeClass} {node.BrowseName.Name}{Attributes(node)}");
            WriteReferences(node, output);
            output.Write('\n');
        }
    }

    private static string Attributes(Node node) => node switch
    {
        VariableNode variable => string.Create(CultureInfo.InvariantCulture, $" [{Id(variable.DataType)} rank {variable.ValueRank} access {(int)variable.AccessLevel}]"),
        VariableTypeNode type => string.Create(CultureInfo.InvariantCulture, $" [{Id(type.DataType)} rank {type.ValueRank}{(type.IsAbstract ? " abstract" : "")}]"),
        ReferenceTypeNode { InverseName.Text: { } inverse } => $" [{inverse}]",
        TypeNode { IsAbstract: true } => " [abstract]",
        ObjectNode { EventNotifier: > 0 } item => string.Create(CultureInfo.InvariantCulture, $" [events {item.EventNotifier}]"),
        MethodNode method => Arguments(method),
        _ => "",
    };

    private static string Arguments(MethodNode method) =>
        method.InputArguments.Count + method.OutputArguments.Count == 0 ? ""
        : $" ({string.Join(", ", method.InputArguments.Select(Text))}) -> ({string.Join(", ", method.OutputArguments.Select(Text))})";

    private static string Text(Argument argument) => $"{argument.Name}: {Id(argument.DataType)}{(argument.ValueRank < 0 ? "" : "[]")}";

    private static void WriteReferences(Node node, TextWriter output)
    {
        string before = "";
        foreach (Reference reference in node.References)
        {
            if (!reference.IsForward)
            {
                continue;
            }

            string type = reference.Type.BrowseName.Name!;
            output.Write(type == before ? " " : $" {type} ");
            output.Write(Id(reference.Target));
            before = type;
        }
    }

    private static string Id(Node node) => Id(node.NodeId);

    private static string Id(in NodeId nodeId) => nodeId is { NamespaceIndex: 0, Type: NodeIdType.Numeric } ? nodeId.Number.ToString(CultureInfo.InvariantCulture) : nodeId.ToString();
}
