using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>Revised parameters of an item.</summary>
/// <param name="SamplingMs">Sampling interval, ms.</param>
/// <param name="QueueSize">Values the queue holds.</param>
/// <param name="Filter">Filter with its deadband as a width.</param>
/// <param name="ClientFilter">Filter as the client gave it, or null.</param>
internal readonly record struct ItemSettings(double SamplingMs, int QueueSize, ChangeFilter Filter, DataChangeFilter? ClientFilter);
