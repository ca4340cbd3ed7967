using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// Builds the nodes of the links to the devices, by the names people gave them: an integrator sees from afar which line
/// loses answers and which device refuses.
/// </summary>
internal sealed class LinkSpaceBuilder(SpaceBuilder builder, int scanMs)
{
    private static readonly NodeId Number = new(StandardIds.Double);
    private static readonly NodeId Flag = new(StandardIds.Boolean);
    private static readonly NodeId Count = new(8); // Int64, OPC 10000-6, annex A

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
        return new LinkNodes
        {
            State = builder.AddTwoState(link, Spec(at, "State", Flag, "Whether a connection is up that has answered"), "up", "down"),
            Requests = Counter(link, at, "Requests", "Requests sent, reads and writes"),
            Answers = Counter(link, at, "Answers", "Answers that fitted their request"),
            Exceptions = Counter(link, at, "Exceptions", "Exception answers: the device is there and refuses"),
            Timeouts = Counter(link, at, "Timeouts", "Requests without an answer in time; each ends the connection"),
            BadAnswers = Counter(link, at, "BadAnswers", "Answers that did not fit their request; each ends the connection"),
            ChecksumErrors = Counter(link, at, "ChecksumErrors", "Frames with a wrong checksum, on serial lines; always 0 on TCP"),
            LateAnswers = Counter(link, at, "LateAnswers", "Answers that came too late, or twice, and were dropped"),
            Connects = Counter(link, at, "Connects", "Connections that were proved by an answer; all but the first are reconnects"),
            Losses = Counter(link, at, "Losses", "Connections lost, or closed after a failure"),
            FailedWrites = Counter(link, at, "FailedWrites", "Writes refused or not answered"),
            DroppedWrites = Counter(link, at, "DroppedWrites", "Energising writes dropped because the connection was lost; none is repeated"),
            PollOverruns = Counter(link, at, "PollOverruns", "Poll rounds skipped because the one before took too long"),
            Faults = Counter(link, at, "Faults", "Faults of the software that no outcome describes; anything but 0 is worth a report"),
            RoundTripLast = builder.AddAnalog(link, Spec(at, "RoundTripLast", Number, "From the sending of the last answered request to its answer"), "ms"),
            RoundTripMax = builder.AddAnalog(link, Spec(at, "RoundTripMax", Number, "The longest round trip since the guard started"), "ms"),
        };
    }

    private VariableNode Counter(Node link, string at, string name, string description) => builder.AddVariable(link, Spec(at, name, Count, description));

    private VariableSpec Spec(string at, string name, NodeId dataType, string description) => new($"{at}/{name}", name, dataType) { Description = description, MinimumSamplingIntervalMs = scanMs };
}
