// The independent discovery server of the tests: says what is registered, one line of JSON each. Ends with its standard
// input. Usage: node discovery.js NODE_MODULES PKI_FOLDER PORT [old]; "old" does not know RegisterServer2.
"use strict";
const path = require("path");
const [modules, pki, port, age] = process.argv.slice(2);
const load = (name) => require(path.join(modules, name));
const { OPCUADiscoveryServer } = load("node-opcua-server-discovery");
const { OPCUACertificateManager } = load("node-opcua-certificate-manager");

// What the library itself prints must not stand between the lines.
for (const name of ["log", "info", "debug", "warn"]) console[name] = (...args) => console.error(...args);
const print = (o) => process.stdout.write(JSON.stringify(o) + "\n");
const told = (s) => ({
  uri: s.serverUri, product: s.productUri, type: s.serverType, online: s.isOnline,
  names: (s.serverNames || []).map((n) => n.text), urls: s.discoveryUrls,
});

let last;

(async () => {
  const certificates = new OPCUACertificateManager({ rootFolder: pki, automaticallyAcceptUnknownCertificate: true });
  await certificates.initialize();
  const asked = (name) => {
    const method = OPCUADiscoveryServer.prototype[name];
    OPCUADiscoveryServer.prototype[name] = function (message, channel) {
      last = { service: message.request.schema.name, capabilities: (message.request.discoveryConfiguration || []).flatMap((d) => d.serverCapabilities || []) };
      return method.call(this, message, channel);
    };
  };
  asked("_on_RegisterServerRequest");
  asked("_on_RegisterServer2Request");
  if (age === "old") OPCUADiscoveryServer.prototype._on_RegisterServer2Request = undefined;
  const server = new OPCUADiscoveryServer({ port: Number(port), serverCertificateManager: certificates });
  server.on("onRegisterServer", (s, first) => print({ event: "registered", first, server: told(s), ...last }));
  server.on("onUnregisterServer", (s, forced) => print({ event: "unregistered", forced, server: told(s) }));
  await server.start();
  print({ event: "ready", thumbprint: load("node-opcua-crypto").makeSHA1Thumbprint(server.getCertificate()).toString("hex").toUpperCase() });
  process.stdin.resume();
  process.stdin.on("end", () => process.exit(0));
})().catch((e) => { console.error(e); process.exit(1); });
