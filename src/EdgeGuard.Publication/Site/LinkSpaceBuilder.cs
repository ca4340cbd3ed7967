using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Builds the nodes of the links to the devices, by the names people gave them: an integrator sees from afar which line
/// loses answers and which device refuses. The figures are those of <see cref="LinkFigureTexts"/>, all of them.
/// </summary>
internal sealed class LinkSpaceBuilder(SpaceBuilder builder, int scanMs)
{
    private static readonly NodeId Number = new(StandardIds.Double);
    private static readonly NodeId Flag = new(StandardIds.Boolean);
    private static readonly NodeId Count = new(9); // UInt64, OPC 10000-6, annex A

    public LinkNodes[] Build(Node site, IReadOnlyList<string> names)
    {
        ObjectNode folder = builder.AddFolder(site, "/links", "Links", "The connections to the devices and what they have been through since the guard started");
        var links = new LinkNodes[names.Count];
        for (int i = 0; i < links.Length; i++)
        {
            links[i] = Build(folder, names[i]);
        }

        return links;
    }

    private LinkNodes Build(Node folder, string name)
    {
        string at = "/links/" + name;
        ObjectNode link = builder.AddFolder(folder, at, name, "A connection to devices");
        return new LinkNodes([.. LinkFigureTexts.All.Select(text => Build(link, at, text))]);
    }

    private VariableNode Build(Node link, string at, LinkFigureText text) => text.Kind switch
    {
        LinkFigureKind.State => builder.AddTwoState(link, Spec(at, text, Flag), "up", "down"),
        LinkFigureKind.RoundTrip => builder.AddAnalog(link, Spec(at, text, Number), "ms"),
        _ => builder.AddVariable(link, Spec(at, text, Count)),
    };

    private VariableSpec Spec(string at, LinkFigureText text, NodeId dataType) => new($"{at}/{text.Name}", text.Name, dataType) { Description = text.Description, MinimumSamplingIntervalMs = scanMs };
}
