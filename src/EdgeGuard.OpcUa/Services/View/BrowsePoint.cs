using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Services;

// Where a Browse goes on: the references as they were when it began, so that a change in between neither repeats nor
// loses one; what was asked for; the index of the next reference to look at.
internal readonly record struct BrowsePoint(ReferenceList References, BrowseDescription Filter, ReferenceTypeNode? Type, int Next, int ReferencesMax);
