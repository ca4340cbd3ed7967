// The independent client of the tests: one command of JSON a line on standard input, one answer of JSON a line on standard
// output; what comes unasked has a key "event". Usage: node client.js NODE_MODULES PKI_FOLDER
"use strict";
const path = require("path");
const [modules, pki] = process.argv.slice(2);
const load = (name) => require(path.join(modules, name));
const ua = load("node-opcua-client");
const { OPCUACertificateManager } = load("node-opcua-certificate-manager");
const { NumericRange } = load("node-opcua-numeric-range");

let client, session, subscription;
let certificates;

// What the library itself prints must not stand between the answers.
for (const name of ["log", "info", "debug"]) console[name] = (...args) => console.error(...args);
const print = (o) => process.stdout.write(JSON.stringify(o, (_, v) => (typeof v === "bigint" ? v.toString() : typeof v === "number" && !Number.isFinite(v) ? String(v) : v)) + "\n");

const plain = (variant) => {
  const v = variant ? variant.value : null;
  if (v === null || v === undefined) return null;
  if (v instanceof Date) return v.toISOString();
  if (Array.isArray(v) && v.length === 2 && (variant.dataType === ua.DataType.Int64 || variant.dataType === ua.DataType.UInt64)) return Number((BigInt(v[0]) << 32n) | BigInt(v[1]));
  if (Array.isArray(v) || ArrayBuffer.isView(v)) return Array.from(v, (e) => (e && e.toJSON ? e.toJSON() : e));
  return v.toJSON ? v.toJSON() : v;
};
const told = (d) => ({
  value: plain(d.value), status: d.statusCode.value, name: d.statusCode.name,
  source: d.sourceTimestamp ? d.sourceTimestamp.getTime() : null, server: d.serverTimestamp ? d.serverTimestamp.getTime() : null,
});

const commands = {
  async endpoints({ url }) {
    const probe = ua.OPCUAClient.create({ endpointMustExist: false, connectionStrategy: { maxRetry: 0 } });
    await probe.connect(url);
    const list = await probe.getEndpoints();
    const servers = await probe.findServers();
    await probe.disconnect();
    return {
      servers: servers.map((s) => s.applicationUri),
      endpoints: list.map((e) => ({ url: e.endpointUrl, mode: e.securityMode, policy: e.securityPolicyUri.split("#")[1], tokens: e.userIdentityTokens.map((t) => t.tokenType) })),
    };
  },
  async connect({ url, policy = "None", mode = "None", user, password, userCertificate, userKey, retries = 0, tokenLifetime = 600000, sessionTimeout = 60000 }) {
    if (!certificates) {
      certificates = new OPCUACertificateManager({ rootFolder: pki, automaticallyAcceptUnknownCertificate: true });
      await certificates.initialize();
    }
    client = ua.OPCUAClient.create({
      applicationName: "InteropClient", clientCertificateManager: certificates, endpointMustExist: true, keepSessionAlive: true,
      securityPolicy: ua.SecurityPolicy[policy], securityMode: ua.MessageSecurityMode[mode], defaultSecureTokenLifetime: tokenLifetime, requestedSessionTimeout: sessionTimeout,
      connectionStrategy: { maxRetry: retries, initialDelay: 100, maxDelay: 500 },
    });
    client.on("connection_lost", () => print({ event: "lost" }));
    client.on("connection_reestablished", () => print({ event: "reconnected" }));
    client.on("security_token_renewed", () => print({ event: "renewed" }));
    await client.connect(url);
    const byCertificate = () => ({ type: ua.UserTokenType.Certificate, certificateData: Buffer.from(userCertificate, "base64"), privateKey: userKey });
    session = await client.createSession(user ? { type: ua.UserTokenType.UserName, userName: user, password } : userCertificate ? byCertificate() : undefined);
    return {};
  },
  async browse({ root = "i=84", maxReferences = 0 }) {
    session.requestedMaxReferencesPerNode = maxReferences;
    const todo = [root], seen = new Map([[root, "Root"]]), errors = [];
    let references = 0;
    while (todo.length) {
      const batch = todo.splice(0, 100);
      const results = await session.browse(batch.map((nodeId) => ({ nodeId, browseDirection: 0, includeSubtypes: true, referenceTypeId: "i=31", nodeClassMask: 0, resultMask: 63 })));
      for (let i = 0; i < results.length; i++) {
        let r = results[i];
        for (;;) {
          if (r.statusCode.value !== 0) { errors.push(`${batch[i]}: ${r.statusCode.name}`); break; }
          for (const f of r.references) {
            references++;
            const key = f.nodeId.toString();
            if (!seen.has(key)) { seen.set(key, f.browseName.name); todo.push(key); }
          }
          if (!r.continuationPoint || r.continuationPoint.length === 0) break;
          r = await session.browseNext(r.continuationPoint, false);
        }
      }
    }
    return { nodes: seen.size, references, errors, own: [...seen.keys()].filter((k) => k.startsWith("ns=2")) };
  },
  // The identifier of the session, as the server gave it and as it stands in NodeIds.
  async session() {
    return { id: session.sessionId.toString() };
  },
  // The components of a node: HasComponent, forward.
  async components({ node }) {
    const r = await session.browse({ nodeId: node, browseDirection: 0, includeSubtypes: true, referenceTypeId: "i=47", nodeClassMask: 0, resultMask: 63 });
    return { status: r.statusCode.name, components: (r.references || []).map((f) => ({ node: f.nodeId.toString(), name: f.browseName.name, type: f.typeDefinition.toString() })) };
  },
  // Every attribute of every node named; anything but a value or "there is no such attribute" is an error.
  async attributes({ nodes }) {
    const errors = [];
    for (const node of nodes) {
      const ids = Array.from({ length: 27 }, (_, i) => i + 1);
      const values = await session.read(ids.map((attributeId) => ({ nodeId: node, attributeId })));
      values.forEach((v, i) => { if (i !== 12 && v.statusCode.value !== 0 && v.statusCode.name !== "BadAttributeIdInvalid") errors.push(`${node} attribute ${i + 1}: ${v.statusCode.name}`); });
    }
    return { errors };
  },
  async read({ nodes, range }) {
    const indexRange = range === undefined ? undefined : new NumericRange(range);
    const values = await session.read(nodes.map((nodeId) => ({ nodeId, attributeId: ua.AttributeIds.Value, indexRange })));
    return { values: values.map(told) };
  },
  async write({ node, value }) {
    const status = await session.write({ nodeId: node, attributeId: ua.AttributeIds.Value, value: { value: { dataType: ua.DataType.Double, value } } });
    return { status: status.value, name: status.name };
  },
  async subscribe({ interval = 100, keepAlives = 10, lifetime = 100, notifications = 0 }) {
    subscription = await session.createSubscription2({ requestedPublishingInterval: interval, requestedMaxKeepAliveCount: keepAlives, requestedLifetimeCount: lifetime, maxNotificationsPerPublish: notifications, publishingEnabled: true, priority: 1 });
    subscription.on("keepalive", () => print({ event: "keepalive" }));
    subscription.on("status_changed", (s) => print({ event: "status", name: s.name }));
    return { id: subscription.subscriptionId, interval: subscription.publishingInterval };
  },
  async monitor({ node, sampling = 0, queue = 1, discardOldest = true, deadband, percent, stamps }) {
    const filter = stamps ? new ua.DataChangeFilter({ trigger: ua.DataChangeTrigger.StatusValueTimestamp }) : deadband === undefined ? undefined : new ua.DataChangeFilter({ trigger: ua.DataChangeTrigger.StatusValue, deadbandType: percent ? ua.DeadbandType.Percent : ua.DeadbandType.Absolute, deadbandValue: deadband });
    const item = await subscription.monitor({ nodeId: node, attributeId: ua.AttributeIds.Value }, { samplingInterval: sampling, queueSize: queue, discardOldest, filter }, ua.TimestampsToReturn.Both);
    item.on("changed", (d) => print({ event: "change", node, ...told(d) }));
    const result = item.result;
    return { status: item.statusCode ? item.statusCode.name : null, queue: result ? result.revisedQueueSize : null, sampling: result ? result.revisedSamplingInterval : null };
  },
  async call({ object, method, args = [] }) {
    const r = await session.call({ objectId: object, methodId: method, inputArguments: args.map((value) => typeof value === "object" ? { dataType: ua.DataType.Double, value: value.double } : ({ dataType: { number: ua.DataType.UInt32, boolean: ua.DataType.Boolean }[typeof value] || ua.DataType.String, value })) });
    return { status: r.statusCode.value, name: r.statusCode.name, outputs: (r.outputArguments || []).map(plain) };
  },
  async close() {
    if (session) await session.close(true);
    if (client) await client.disconnect();
    session = client = subscription = undefined;
    return {};
  },
};

let queue = Promise.resolve();
require("readline").createInterface({ input: process.stdin }).on("line", (line) => {
  queue = queue.then(async () => {
    try {
      const command = JSON.parse(line);
      print({ ok: true, ...(await commands[command.cmd](command)) });
    } catch (e) {
      print({ ok: false, error: String((e && e.message) || e) });
    }
  });
}).on("close", () => { queue.then(() => process.exit(0)); });
print({ event: "ready" });
