namespace EdgeGuard.Service.Requests;

/// <summary>State of the journal.</summary>
/// <param name="Health">"Healthy", "Failing" or "Unknown".</param>
/// <param name="DurableEvent">Highest event sequence number on disk.</param>
/// <param name="LostEvents">Events lost because the queue was full.</param>
/// <param name="Failure">Why it cannot be written; empty when it can.</param>
/// <param name="HeadNumber">Number of the last durable line; absent when unknown.</param>
/// <param name="HeadHash">Hash of the last durable line; absent when unknown.</param>
public sealed record JournalStatus(string Health, long DurableEvent, long LostEvents, string Failure, long? HeadNumber, string? HeadHash);
