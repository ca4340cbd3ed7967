using EdgeGuard.OpcUa.AddressSpace;

namespace EdgeGuard.Publication.Site;

/// <summary>The nodes of a site that are written while it runs.</summary>
/// <param name="Folder">The folder of the site.</param>
/// <param name="Guard">The guard's variables.</param>
/// <param name="Units">Each unit's variables, in the order of the table.</param>
/// <param name="Links">Each link's variables, in the order of the site file.</param>
/// <param name="Alarms">How many alarms there were.</param>
internal sealed record SiteNodes(ObjectNode Folder, GuardNodes Guard, UnitNodes[] Units, LinkNodes[] Links, AlarmNodes Alarms);
