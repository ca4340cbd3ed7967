using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.OpcUa;
using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>
/// The signals of a unit that the site lets a person force, each as an object with its real value, who forced it, why and
/// until when. A unit without one has no such folder. The signal itself shows the forced value with the status
/// Good_LocalOverride.
/// </summary>
internal sealed class ForceSpaceBuilder(SpaceBuilder builder, double scanMs)
{
    private static readonly NodeId Text = new(StandardIds.String);

    /// <summary>By signal role; null where the signal cannot be forced.</summary>
    public ForceNodes?[] Build(Node unitNode, UnitTable unit)
    {
        var nodes = new ForceNodes?[SignalRoles.Count];
        ObjectNode? folder = null;
        foreach (ForcibleSignal forcible in unit.Force.Signals)
        {
            SignalTable? signal = unit.Signals.FirstOrDefault(s => s.Role == forcible.Role);
            if (signal is null || !SignalRoles.MayBeForced(forcible.Role))
            {
                continue;
            }

            folder ??= builder.AddFolder(unitNode, unit.Name + "/forces", "Forces", "Signals whose value a person may force for a time; a forced value is judged in place of the real one and never proves anything");
            nodes[(int)forcible.Role] = BuildSignal(folder, unit.Name, signal);
        }

        return nodes;
    }

    private ForceNodes BuildSignal(Node folder, string unit, SignalTable signal)
    {
        string name = signal.Role.ToString();
        string at = $"{unit}/forces/{name}";
        ObjectNode node = builder.AddObject(folder, at, name, new NodeId(StandardIds.BaseObjectType), SignalFacts.Description(signal.Role));
        return new ForceNodes(
            builder.AddTwoState(node, Spec(at + "/Forced", "Forced", new NodeId(StandardIds.Boolean), "Its value is forced by a person; what the real value demands is counted and trips nothing"), "forced", "as read"),
            builder.AddVariable(node, Spec(at + "/ForcedBy", "ForcedBy", Text, "Who asked for the force; no value while there is none")),
            builder.AddVariable(node, Spec(at + "/ForcedReason", "ForcedReason", Text, "Why; no value while there is none")),
            builder.AddVariable(node, Spec(at + "/ForcedUntil", "ForcedUntil", new NodeId(StandardIds.UtcTime), "When the force expires by itself; no value while there is none")),
            builder.AddVariable(node, Spec(at + "/ForcedDemands", "ForcedDemands", new NodeId(StandardIds.Int32), "Demands of the real value since the force began; no value while there is none")),
            builder.AddAnalog(node, Spec(at + "/Real", "Real", new NodeId(StandardIds.Double), "What the device says, forced or not") with { Definition = SignalFacts.Text(signal) }, SignalFacts.Unit(signal.Role), signal.RangeMin, signal.RangeMax));
    }

    private VariableSpec Spec(string id, string name, NodeId dataType, string description) => new(id, name, dataType) { Description = description, MinimumSamplingIntervalMs = scanMs };
}
