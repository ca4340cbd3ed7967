#!/usr/bin/env python3
"""Writes AddressSpace/standard-nodes.bin, the table of the nodes of namespace 0, and its counts for the tests.

Usage: nodeset.py FOLDER-OF-NODE-MODULES   (after: npm install node-opcua-nodesets@2.182.0)
Reads  node-opcua-nodesets/nodesets/Opc.Ua.NodeSet2.xml (OPC Foundation MIT License 1.00, docs/reference/opcua-sources.md)
Writes src/EdgeGuard.OpcUa/AddressSpace/standard-nodes.bin        read by StandardNodes.cs
       tests/EdgeGuard.OpcUa.Tests/AddressSpace/nodeset-counts.csv what the source holds, counted without the table's code

The table holds every type with the nodes below it, and of the instances only those named here. Documentation, categories,
role permissions, access restrictions and the dictionaries of version 1.03 are left out.

Layout, deflated, little-endian, encodings of OPC 10000-6:
  String version, String publication date
  Int32 n, n String                       texts
  Int32 n, n nodes in ascending number:
    UInt16 number, Byte class (bit position of the NodeClass), Byte flags, UInt16 browse name, UInt16 display name
    flags: 1 abstract, 2 symmetric, 4 value or definition follows, 8 array dimensions follow
    Object: Byte EventNotifier; ReferenceType: UInt16 inverse name (FFFF none)
    Variable, VariableType: UInt16 data type, SByte value rank, Byte access level, [UInt32 array], [Variant as ByteString]
    DataType: [ExtensionObject as ByteString]
  Int32 n, n forward references in ascending order: UInt16 index of source, of type, of target
"""
import collections
import pathlib
import struct
import sys
import xml.etree.ElementTree as ET
import zlib

ROOT = pathlib.Path(__file__).resolve().parents[3]
UA = "{http://opcfoundation.org/UA/2011/03/UANodeSet.xsd}"
CLASSES = ["UAObject", "UAVariable", "UAMethod", "UAObjectType", "UAVariableType", "UAReferenceType", "UADataType", "UAView"]
TYPES = {"UAObjectType", "UAVariableType", "UAReferenceType", "UADataType"}
SUBTYPE, TYPE_DEFINITION, ENCODING = 45, 40, 38
# Organizes, HasEventSource, HasEncoding, HasProperty, HasComponent, HasNotifier, HasOrderedComponent: below a type.
BELOW = {35, 36, 38, 46, 47, 48, 49}

# Instances that are kept: alone, or with everything below them.
ALONE = [84, 85, 86, 87, 88, 89, 90, 91, 3048, 17708, 2253, 2268, 2996, 2997, 2274, 3706, 2295, 2296, 11715]
WHOLE = [78, 80, 83, 11508, 11510,  # modelling rules
         2254, 2255, 2256, 2267, 2994,  # Server: arrays, status, service level, auditing
         2269, 2271, 2272, 2735, 2736, 2737, 3704, 11702, 11703, 12911, 11704,  # ServerCapabilities
         24095, 24096, 24097, 24098, 24104, 31916,
         2275, 2290, 2294, 3707, 3708,  # ServerDiagnostics
         3709, 15957, 11492, 12873]  # redundancy, namespace metadata, GetMonitoredItems, ResendData

# Optional below those: default permissions of a namespace; roles and permissions are not published.
DROPPED = {16134, 16135, 16136}


def number(text):
    if not text.startswith("i="):
        raise SystemExit(f"only numbers of namespace 0 are expected, not {text}")
    return int(text[2:])


class Nodeset:
    def __init__(self, path):
        root = ET.parse(path).getroot()
        model = root.find(f"{UA}Models/{UA}Model")
        self.version, self.published = model.get("Version"), model.get("PublicationDate")
        self.alias = {a.get("Alias"): a.text for a in root.find(f"{UA}Aliases")}
        self.nodes = {number(e.get("NodeId")): e for e in root if e.tag[len(UA):] in CLASSES}
        self.references = set()
        for source, element in self.nodes.items():
            for reference in element.find(f"{UA}References"):
                kind, other = self.resolve(reference.get("ReferenceType")), number(reference.text)
                forward = reference.get("IsForward", "true") == "true"
                self.references.add((source, kind, other) if forward else (other, kind, source))
        self.out = collections.defaultdict(list)
        for source, kind, target in sorted(self.references):
            self.out[source].append((kind, target))
        self.parent = {target: source for source, kind, target in self.references if kind == SUBTYPE}

    def resolve(self, text):
        return number(self.alias.get(text, text))

    def kind(self, node):
        return self.nodes[node].tag[len(UA):]

    def below(self, starts):
        found, queue = set(starts), list(starts)
        while queue:
            for kind, target in self.out[queue.pop()]:
                if kind in BELOW and target not in found:
                    found.add(target)
                    queue.append(target)
        return found

    def selection(self):
        types = {n for n in self.nodes if self.kind(n) in TYPES}
        kept = self.below(types) | self.below(WHOLE) | set(ALONE)
        return sorted(n for n in kept if n not in DROPPED and self.nodes[n].get("DesignToolOnly") != "true")

    def is_below(self, node, ancestor):
        while node is not None and node != ancestor:
            node = self.parent.get(node)
        return node == ancestor


class Writer:
    def __init__(self):
        self.data = bytearray()

    def put(self, form, *values):
        self.data += struct.pack("<" + form, *values)
        return self

    def string(self, text):
        if text is None:
            return self.put("i", -1)
        raw = text.encode()
        self.put("i", len(raw))
        self.data += raw
        return self

    def node_id(self, value):
        if value <= 255:
            return self.put("BB", 0, value)
        return self.put("BBH", 1, 0, value)

    def text(self, text):
        """LocalizedText in English; nothing when there is no text."""
        return self.put("B", 0) if not text else self.put("B", 3).string("en").string(text)

    def counted(self, raw):
        self.put("i", len(raw))
        self.data += raw
        return self

    def structure(self, encoding, raw):
        return self.node_id(encoding).put("B", 1).counted(raw)


def first(element, name):
    """Text of a child, whatever its namespace; None when it is missing or empty."""
    found = None if element is None else element.find("{*}" + name)
    return found.text if found is not None else None


def localized(element, name):
    return first(element.find("{*}" + name), "Text") if element.find("{*}" + name) is not None else None


def argument(body):
    out = Writer().string(first(body, "Name"))
    out.node_id(number(first(body.find("{*}DataType"), "Identifier"))).put("i", int(first(body, "ValueRank") or -1))
    dimensions = [int(d.text) for d in body.find("{*}ArrayDimensions") or []]
    out.put("i", len(dimensions)) if dimensions else out.put("i", -1)
    for dimension in dimensions:
        out.put("I", dimension)
    return out.text(localized(body, "Description")).data


def enum_value(body):
    return Writer().put("q", int(first(body, "Value"))).text(localized(body, "DisplayName")).text(localized(body, "Description")).data


def unit(body):
    return Writer().string(first(body, "NamespaceUri")).put("i", int(first(body, "UnitId"))).text(localized(body, "DisplayName")).text(localized(body, "Description")).data


STRUCTURES = {"Argument": (298, argument), "EnumValueType": (8251, enum_value), "EUInformation": (889, unit)}


def extension(out, element):
    body = element.find("{*}Body")[0]
    encoding, write = STRUCTURES[body.tag.split("}")[1]]
    out.structure(encoding, write(body))


def scalar(out, kind, element):
    if kind == "String":
        out.string(element.text or "")
    elif kind == "LocalizedText":
        out.text(first(element, "Text"))
    elif kind == "ExtensionObject":
        extension(out, element)
    elif kind == "Boolean":
        out.put("B", element.text == "true")
    elif kind in ("Int32", "UInt32"):
        out.put("i" if kind == "Int32" else "I", int(element.text))
    elif kind == "DateTime":
        import datetime
        delta = datetime.datetime.fromisoformat(element.text.replace("Z", "+00:00")) - datetime.datetime(1601, 1, 1, tzinfo=datetime.timezone.utc)
        out.put("q", (delta.days * 86400 + delta.seconds) * 10_000_000)
    else:
        raise SystemExit(f"a value of type {kind} has no encoding here")


BUILT_IN = {"Boolean": 1, "Int32": 6, "UInt32": 7, "String": 12, "DateTime": 13, "LocalizedText": 21, "ExtensionObject": 22}


def variant(value):
    element = value[0]
    name = element.tag.split("}")[1]
    array = name.startswith("ListOf")
    kind = name[6:] if array else name
    out = Writer().put("B", BUILT_IN[kind] | (0x80 if array else 0))
    items = list(element) if array else [element]
    if array:
        out.put("i", len(items))
    for item in items:
        scalar(out, kind, item)
    return out.data


def own_fields(nodeset, node):
    definition = nodeset.nodes[node].find(f"{UA}Definition")
    return [] if definition is None else definition.findall(f"{UA}Field")


def all_fields(nodeset, node):
    """Those of the supertypes first: OPC 10000-3 wants the inherited fields in the list."""
    above = nodeset.parent.get(node)
    return (all_fields(nodeset, above) if above and above != 22 else []) + own_fields(nodeset, node)


def structure_definition(nodeset, node):
    definition = nodeset.nodes[node].find(f"{UA}Definition")
    fields = all_fields(nodeset, node)
    subtyped = any(f.get("AllowSubTypes") == "true" for f in fields)
    if definition is not None and definition.get("IsUnion") == "true":
        kind = 4 if subtyped else 2
    else:
        kind = 1 if any(f.get("IsOptional") == "true" for f in fields) else 3 if subtyped else 0
    encodings = [t for k, t in nodeset.out[node] if k == ENCODING and nodeset.nodes[t].get("BrowseName") == "Default Binary"]
    out = Writer().node_id(encodings[0] if encodings else 0).node_id(nodeset.parent[node]).put("i", kind).put("i", len(fields))
    for field in fields:
        dimensions = [int(d) for d in field.get("ArrayDimensions", "").split(",") if d]
        out.string(field.get("Name")).text(None).node_id(nodeset.resolve(field.get("DataType", "i=24"))).put("i", int(field.get("ValueRank", -1)))
        out.put("i", len(dimensions) or -1)
        for dimension in dimensions:
            out.put("I", dimension)
        out.put("IB", int(field.get("MaxStringLength", 0)), field.get("IsOptional") == "true" or field.get("AllowSubTypes") == "true")
    return Writer().structure(122, out.data).data


def enum_definition(nodeset, node):
    fields = own_fields(nodeset, node)
    out = Writer().put("i", len(fields))
    for field in fields:
        display = field.find(f"{UA}DisplayName")
        out.put("q", int(field.get("Value"))).text(display.text if display is not None else field.get("Name")).text(None).string(field.get("Name"))
    return Writer().structure(123, out.data).data


def definition(nodeset, node):
    element = nodeset.nodes[node].find(f"{UA}Definition")
    if element is not None and element.get("IsOptionSet") == "true":
        return enum_definition(nodeset, node)
    if node != 22 and nodeset.is_below(node, 22):
        return structure_definition(nodeset, node)
    return enum_definition(nodeset, node) if nodeset.is_below(node, 29) else None


class Table:
    def __init__(self, nodeset):
        self.nodeset, self.texts, self.out = nodeset, {}, Writer()

    def text(self, text):
        return self.texts.setdefault(text, len(self.texts))

    def node(self, node):
        element, kind = self.nodeset.nodes[node], self.nodeset.kind(node)
        value = element.find(f"{UA}Value")
        payload = definition(self.nodeset, node) if kind == "UADataType" else variant(value) if value is not None else None
        dimensions = [int(d) for d in element.get("ArrayDimensions", "").split(",") if d]
        flags = (element.get("IsAbstract") == "true") | (element.get("Symmetric") == "true") * 2 | (payload is not None) * 4 | bool(dimensions) * 8
        name = element.get("BrowseName")
        if name.startswith("0:"):
            name = name[2:]
        display = element.find(f"{UA}DisplayName").text
        self.out.put("HBBHH", node, CLASSES.index(kind), flags, self.text(name), self.text(display))
        if kind == "UAObject":
            self.out.put("B", int(element.get("EventNotifier", 0)))
        elif kind == "UAReferenceType":
            inverse = element.find(f"{UA}InverseName")
            self.out.put("H", 0xFFFF if inverse is None else self.text(inverse.text))
        elif kind in ("UAVariable", "UAVariableType"):
            self.out.put("HbB", self.nodeset.resolve(element.get("DataType", "i=24")), int(element.get("ValueRank", -1)), int(element.get("AccessLevel", 1)))
            if dimensions:
                self.out.put("i", len(dimensions)).put(f"{len(dimensions)}I", *dimensions)
        if payload is not None:
            self.out.counted(payload)

    def write(self, kept):
        index = {node: i for i, node in enumerate(kept)}
        for node in kept:
            self.node(node)
        references = sorted((index[s], index[k], index[t]) for s, k, t in self.nodeset.references if s in index and t in index)
        head = Writer().string(self.nodeset.version).string(self.nodeset.published).put("i", len(self.texts))
        for text in self.texts:
            head.string(text)
        head.put("i", len(kept))
        self.out.put("i", len(references))
        for reference in references:
            self.out.put("HHH", *reference)
        return zlib.compress(bytes(head.data + self.out.data), 9), len(references)


def main():
    nodeset = Nodeset(pathlib.Path(sys.argv[1]) / "node-opcua-nodesets/nodesets/Opc.Ua.NodeSet2.xml")
    kept = nodeset.selection()
    raw, references = Table(nodeset).write(kept)
    (ROOT / "src/EdgeGuard.OpcUa/AddressSpace/standard-nodes.bin").write_bytes(raw)
    counts = collections.Counter(nodeset.kind(n) for n in nodeset.nodes)
    lines = ["# Counted in Opc.Ua.NodeSet2.xml (OPC Foundation MIT License 1.00) by Generation/nodeset.py", "what,count", f"version,{nodeset.version}"]
    lines += [f"{kind},{counts[kind]}" for kind in CLASSES if kind in TYPES]
    lines += [f"definition,{sum(1 for e in nodeset.nodes.values() if e.find(UA + 'Definition') is not None)}", f"kept,{len(kept)}", f"references,{references}"]
    (ROOT / "tests/EdgeGuard.OpcUa.Tests/AddressSpace").mkdir(parents=True, exist_ok=True)
    (ROOT / "tests/EdgeGuard.OpcUa.Tests/AddressSpace/nodeset-counts.csv").write_text("\n".join(lines) + "\n")
    print(f"{len(kept)} nodes, {references} references, {len(raw)} bytes")
    orphans = set(kept) - {t for s, k, t in nodeset.references if s in set(kept) and k not in (TYPE_DEFINITION, 37)}
    print("without a parent:", sorted(orphans))


main()
