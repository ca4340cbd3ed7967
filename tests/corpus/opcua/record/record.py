#!/usr/bin/env python3
"""Records the corpus: stands between an independent client and an independent server and keeps what they say.

Usage (from the root of the repository, after tests/tools/install-node-client and install-node-server):
    unshare -u sh -c 'hostname pilot-hall && python3 tests/corpus/opcua/record/record.py'
The other host name keeps the name of this machine out of the certificates and addresses. Each message type is kept
with up to three lengths, as hexadecimal text with its origin in the first lines. Plain traffic is kept as bodies of
messages and as frames; of secured traffic the HEL and OPN frames, which are all that can be read without keys.
"""
import json, pathlib, re, shutil, socket, struct, subprocess, tempfile, threading

ROOT = pathlib.Path(__file__).resolve().parents[4]
CORPUS = ROOT / "tests/corpus/opcua"
CLIENT, SERVER = ROOT / "artifacts/interop-node", ROOT / "artifacts/bench-node"
BYTES_MAX, PER_TYPE = 3000, 3
POLICIES = [("None", "None"), ("Basic256Sha256", "SignAndEncrypt"), ("Aes128_Sha256_RsaOaep", "Sign"), ("Aes256_Sha256_RsaPss", "SignAndEncrypt")]


def version(folder, package):
    return json.loads((folder / "node_modules" / package / "package.json").read_text())["version"]


def names():
    found = {}
    for file in (ROOT / "src/EdgeGuard.OpcUa/Messages/Services").glob("*.g.cs"):
        found[int(re.search(r"BinaryId = (\d+)", file.read_text()).group(1))] = file.name[:-5]
    return found


class Keeper:
    """Writes what is new by type and length."""

    def __init__(self):
        self.lengths, self.names = {}, names()
        self.client = f"node-opcua-client {version(CLIENT, 'node-opcua-client')}"
        self.server = f"node-opcua-server {version(SERVER, 'node-opcua-server')}"

    def keep(self, folder, name, data, by):
        seen = self.lengths.setdefault((folder, name), [])
        if len(data) in seen or len(seen) >= PER_TYPE or len(data) > BYTES_MAX:
            return
        seen.append(len(data))
        target = CORPUS / folder / f"{name}-{len(seen)}.hex"
        target.parent.mkdir(exist_ok=True)
        text = data.hex().upper()
        lines = [text[i:i + 120] for i in range(0, len(text), 120)]
        target.write_text(f"# {name}, {len(data)} bytes; written by {by}, MIT licence\n" + "\n".join(lines) + "\n")

    def body(self, data, is_client):
        kind = struct.unpack_from("<H", data, 2)[0] if data[:2] == b"\x01\x00" else 0
        name = self.names.get(kind, f"type{kind}")
        self.keep("requests" if is_client else "responses", name, data, self.client if is_client else self.server)


def pump(source, target, policy, is_client, keeper):
    data, parts = b"", {}
    while True:
        try:
            more = source.recv(65536)
        except OSError:
            more = b""
        if not more:
            break
        target.sendall(more)
        data += more
        while len(data) >= 8 and len(data) >= struct.unpack_from("<I", data, 4)[0]:
            size = struct.unpack_from("<I", data, 4)[0]
            frame, data = data[:size], data[size:]
            take(frame, parts, policy, is_client, keeper)
    for side in (source, target):
        try:
            side.shutdown(socket.SHUT_RDWR)
        except OSError:
            pass


def take(frame, parts, policy, is_client, keeper):
    kind = frame[:3].decode()
    if is_client and (policy == "None" or kind in ("HEL", "OPN")):
        # A client that is to open a secured channel asks over a plain one first which endpoints there are.
        named = frame[16:16 + struct.unpack_from("<i", frame, 12)[0]].decode().split("#")[1] if kind == "OPN" else policy
        keeper.keep("frames", f"{kind}-{named}", frame, keeper.client)
    if policy != "None" or kind not in ("MSG", "OPN"):
        return
    at = 16 if kind == "MSG" else 12
    for _ in range(0 if kind == "MSG" else 3):
        length = struct.unpack_from("<i", frame, at)[0]
        at += 4 + max(0, length)
    request = struct.unpack_from("<I", frame, at + 4)[0]
    parts[request] = parts.get(request, b"") + frame[at + 8:]
    if frame[3:4] == b"F":
        keeper.body(parts.pop(request), is_client)


def serve(listener, port, policy, keeper):
    while True:
        try:
            client, _ = listener.accept()
        except OSError:
            return
        server = socket.create_connection(("127.0.0.1", port))
        threading.Thread(target=pump, args=(client, server, policy[0], True, keeper), daemon=True).start()
        threading.Thread(target=pump, args=(server, client, policy[0], False, keeper), daemon=True).start()


def main():
    for folder in ("frames", "requests", "responses"):
        shutil.rmtree(CORPUS / folder, ignore_errors=True)
    keeper = Keeper()
    with tempfile.TemporaryDirectory() as pki:
        server = subprocess.Popen(["node", SERVER / "server.js", "48411", "all"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        port = int(next(line for line in server.stdout if line.startswith("ready ")).split()[1])
        for policy in POLICIES:
            with socket.create_server(("127.0.0.1", 0)) as listener:
                threading.Thread(target=serve, args=(listener, port, policy, keeper), daemon=True).start()
                url = f"opc.tcp://127.0.0.1:{listener.getsockname()[1]}"
                subprocess.run(["node", CORPUS / "record/client.js", CLIENT / "node_modules", pki, url, *policy], check=False, timeout=120)
        server.stdin.close()
        server.wait(timeout=20)
    print(sum(len(v) for v in keeper.lengths.values()), "files")


main()
