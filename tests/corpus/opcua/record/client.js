// Talks to an OPC UA server through every service once, so that record.py can keep what went over the wire.
// Usage: node client.js NODE_MODULES PKI_FOLDER URL POLICY MODE
"use strict";
const path = require("path");
const [modules, pki, url, policy, mode] = process.argv.slice(2);
const load = (name) => require(path.join(modules, name));
const ua = load("node-opcua-client");
const types = load("node-opcua-types");
const { OPCUACertificateManager } = load("node-opcua-certificate-manager");

const variable = (i) => `ns=1;s=bench/v0000${i}`;
const quietly = async (name, work) => {
  try {
    await work();
  } catch (e) {
    console.error(`${name}: ${e.message}`);
  }
};

async function services(client, session) {
  const ask = (name, fields) => quietly(name, () => session.performMessageTransaction(new types[name](fields)));
  await quietly("read", () => session.read([0, 1, 2, 3].map((i) => ({ nodeId: variable(i), attributeId: ua.AttributeIds.Value }))));
  await quietly("read attributes", () => session.read(Array.from({ length: 27 }, (_, i) => ({ nodeId: "i=2253", attributeId: i + 1 }))));
  await quietly("read status", () => session.read(["i=2256", "i=2255", "i=2268", "i=11704"].map((nodeId) => ({ nodeId, attributeId: ua.AttributeIds.Value, indexRange: undefined }))));
  await quietly("write", () => session.write({ nodeId: variable(1), attributeId: ua.AttributeIds.Value, value: { value: { dataType: ua.DataType.Double, value: 1100 } } }));
  session.requestedMaxReferencesPerNode = 2;
  await quietly("browse", async () => {
    const first = await session.browse({ nodeId: "i=2253", browseDirection: 0, includeSubtypes: true, referenceTypeId: "i=31", nodeClassMask: 0, resultMask: 63 });
    if (first.continuationPoint) await session.browseNext(first.continuationPoint, false);
  });
  await quietly("translate", () => session.translateBrowsePath(ua.makeBrowsePath("RootFolder", "/Objects/Server.ServerStatus.BuildInfo")));
  await quietly("register", async () => session.unregisterNodes(await session.registerNodes([variable(1), variable(2)])));
  await quietly("call", () => session.call({ objectId: "i=2253", methodId: "i=11492", inputArguments: [{ dataType: ua.DataType.UInt32, value: 1 }] }));
  await quietly("history", () => session.readHistoryValue(variable(1), new Date(0), new Date(3600000)));
  await quietly("history events", () => ask("HistoryReadRequest", { historyReadDetails: new types.ReadEventDetails({ numValuesPerNode: 5, startTime: new Date(0), endTime: new Date(1) }), nodesToRead: [{ nodeId: "i=2253" }] }));
  await ask("QueryFirstRequest", {});
  await ask("AddNodesRequest", { nodesToAdd: [{}] });
  await ask("CancelRequest", { requestHandle: 7 });
  await quietly("subscription", () => subscriptions(session, ask));
}

async function subscriptions(session, ask) {
  const made = await session.createSubscription({ requestedPublishingInterval: 100, requestedLifetimeCount: 100, requestedMaxKeepAliveCount: 3, maxNotificationsPerPublish: 0, publishingEnabled: true, priority: 1 });
  const subscriptionId = made.subscriptionId;
  const item = (i, filter) => ({ itemToMonitor: { nodeId: variable(i), attributeId: 13 }, monitoringMode: 2, requestedParameters: { clientHandle: i, samplingInterval: 50, queueSize: 3, discardOldest: true, filter } });
  const items = await session.createMonitoredItems(new types.CreateMonitoredItemsRequest({
    subscriptionId, timestampsToReturn: 2,
    itemsToCreate: [item(1), item(2, new types.DataChangeFilter({ trigger: 1, deadbandType: 1, deadbandValue: 0.5 })), item(3, new types.DataChangeFilter({ trigger: 2 }))],
  }));
  const ids = items.results.map((r) => r.monitoredItemId);
  await ask("CreateMonitoredItemsRequest", {
    subscriptionId, timestampsToReturn: 2,
    itemsToCreate: [{ itemToMonitor: { nodeId: "i=2253", attributeId: 12 }, monitoringMode: 2, requestedParameters: { clientHandle: 9, queueSize: 10, filter: ua.constructEventFilter(["EventId", "Message", "Severity", "SourceName"]) } }],
  });
  await ask("ModifyMonitoredItemsRequest", { subscriptionId, timestampsToReturn: 2, itemsToModify: [{ monitoredItemId: ids[0], requestedParameters: { clientHandle: 4, samplingInterval: 100, queueSize: 5 } }] });
  await ask("SetMonitoringModeRequest", { subscriptionId, monitoringMode: 1, monitoredItemIds: [ids[1]] });
  await ask("SetTriggeringRequest", { subscriptionId, triggeringItemId: ids[0], linksToAdd: [ids[1]], linksToRemove: [] });
  await ask("SetPublishingModeRequest", { publishingEnabled: true, subscriptionIds: [subscriptionId] });
  await ask("ModifySubscriptionRequest", { subscriptionId, requestedPublishingInterval: 200, requestedLifetimeCount: 100, requestedMaxKeepAliveCount: 3, maxNotificationsPerPublish: 10, priority: 2 });
  await ask("PublishRequest", { subscriptionAcknowledgements: [] });
  await ask("PublishRequest", { subscriptionAcknowledgements: [{ subscriptionId, sequenceNumber: 1 }] });
  await ask("RepublishRequest", { subscriptionId, retransmitSequenceNumber: 2 });
  await ask("TransferSubscriptionsRequest", { subscriptionIds: [subscriptionId], sendInitialValues: true });
  await ask("DeleteMonitoredItemsRequest", { subscriptionId, monitoredItemIds: [ids[2]] });
  await ask("DeleteSubscriptionsRequest", { subscriptionIds: [subscriptionId] });
}

async function main() {
  const certificates = new OPCUACertificateManager({ rootFolder: pki, automaticallyAcceptUnknownCertificate: true });
  await certificates.initialize();
  const client = ua.OPCUAClient.create({
    applicationName: "CorpusClient", clientCertificateManager: certificates, endpointMustExist: false, keepSessionAlive: false,
    securityPolicy: ua.SecurityPolicy[policy], securityMode: ua.MessageSecurityMode[mode], connectionStrategy: { maxRetry: 0 },
  });
  await client.connect(url);
  await quietly("endpoints", () => client.getEndpoints());
  await quietly("servers", () => client.findServers());
  const session = await client.createSession();
  if (policy === "None") await services(client, session);
  await session.close(true);
  await client.disconnect();
}

main().then(() => process.exit(0), (e) => { console.error(String(e.stack || e)); process.exit(1); });
