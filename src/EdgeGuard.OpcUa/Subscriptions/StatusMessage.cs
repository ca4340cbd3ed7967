namespace EdgeGuard.OpcUa.Subscriptions;

/// <summary>A StatusChangeNotification of a subscription that is no longer there.</summary>
/// <param name="SubscriptionId">The subscription.</param>
/// <param name="SequenceNumber">Number of the message.</param>
/// <param name="Status">BadTimeout or GoodSubscriptionTransferred.</param>
internal readonly record struct StatusMessage(uint SubscriptionId, uint SequenceNumber, StatusCode Status);
