// The independent server of the benchmark: 100 Double variables, plain and Basic256Sha256, on the port given (0: any).
// It prints "ready PORT" and ends when its standard input ends. With a second argument "all" it offers every policy, for
// recordings.
"use strict";
const path = require("node:path");
const { OPCUAServer } = require("node-opcua-server");
const { OPCUACertificateManager } = require("node-opcua-certificate-manager");
const { SecurityPolicy, MessageSecurityMode } = require("node-opcua-secure-channel");
const { DataType } = require("node-opcua-variant");
const { StatusCodes } = require("node-opcua-status-code");

const variableCount = 100;

async function main() {
  const port = Number(process.argv[2]);
  const all = process.argv[3] === "all";
  const certificates = new OPCUACertificateManager({
    automaticallyAcceptUnknownCertificate: true,
    rootFolder: path.join(__dirname, "pki"),
  });
  await certificates.initialize();
  const server = new OPCUAServer({
    port,
    hostname: "127.0.0.1",
    serverCertificateManager: certificates,
    allowAnonymous: true,
    securityPolicies: [SecurityPolicy.None, SecurityPolicy.Basic256Sha256, ...(all ? [SecurityPolicy.Aes128_Sha256_RsaOaep, SecurityPolicy.Aes256_Sha256_RsaPss] : [])],
    securityModes: [MessageSecurityMode.None, ...(all ? [MessageSecurityMode.Sign] : []), MessageSecurityMode.SignAndEncrypt],
    disableDiscovery: true,
  });
  await server.initialize();
  const space = server.engine.addressSpace;
  const own = space.getOwnNamespace();
  const folder = own.addFolder(space.rootFolder.objects, { browseName: "bench" });
  const variables = [];
  for (let i = 0; i < variableCount; i++) {
    const id = String(i).padStart(5, "0");
    variables.push(own.addVariable({
      componentOf: folder, browseName: `v${id}`, nodeId: `s=bench/v${id}`, dataType: "Double",
      value: { dataType: DataType.Double, value: 0 },
    }));
  }
  let tick = 0;
  setInterval(() => {
    tick++;
    for (const variable of variables) {
      variable.setValueFromSource({ dataType: DataType.Double, value: tick }, StatusCodes.Good);
    }
  }, 100);
  await server.start();
  console.log(`ready ${port}`);
}

process.stdin.on("end", () => process.exit(0));
process.stdin.resume();
main().catch((error) => {
  console.error(String(error.stack || error));
  process.exit(1);
});
