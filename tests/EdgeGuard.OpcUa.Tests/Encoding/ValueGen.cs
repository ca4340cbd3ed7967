using CsCheck;

namespace EdgeGuard.OpcUa.Tests.Encoding;

/// <summary>Generators of built-in values, nested ones included.</summary>
internal static class ValueGen
{
    public static readonly Gen<string?> Text = Gen.OneOf(Gen.Const((string?)null), Gen.String[0, 20].Select(s => (string?)new string([.. s.Where(c => !char.IsSurrogate(c))])), Gen.Const((string?)"水Boy \U0001F525"));
    public static readonly Gen<byte[]?> Octets = Gen.OneOf(Gen.Const((byte[]?)null), Gen.Byte.Array[0, 20].Select(b => (byte[]?)b));
    public static readonly Gen<UaDateTime> Time = Gen.OneOf(Gen.Long.Select(t => new UaDateTime(t)), Gen.Long[130_000_000_000_000_000, 140_000_000_000_000_000].Select(t => new UaDateTime(t)));
    public static readonly Gen<StatusCode> Status = Gen.OneOf(Gen.Const(StatusCode.Good), Gen.UInt.Select(s => (StatusCode)s));
    public static readonly Gen<QualifiedName> Name = Gen.Select(Gen.UShort, Text, (ns, name) => new QualifiedName(ns, name));
    public static readonly Gen<LocalizedText> Localized = Gen.Select(Text, Text, (locale, text) => new LocalizedText(locale, text));

    public static readonly Gen<NodeId> Node = Gen.OneOf(
        Gen.Select(Gen.UShort[0, 300], Gen.UInt[0, 70_000], (ns, i) => new NodeId(ns, i)),
        Gen.Select(Gen.UShort, Gen.UInt, (ns, i) => new NodeId(ns, i)),
        Gen.Select(Gen.UShort, Text, (ns, s) => new NodeId(ns, s)),
        Gen.Select(Gen.UShort, Gen.Guid, (ns, g) => new NodeId(ns, g)),
        Gen.Select(Gen.UShort, Octets, (ns, b) => new NodeId(ns, b)));

    public static readonly Gen<ExpandedNodeId> Expanded = Gen.Select(Node, Text, Gen.UInt[0, 3], (n, uri, server) => new ExpandedNodeId(n, uri, server));

    public static readonly Gen<ExtensionObject?> Extension = Gen.OneOf(
        Gen.Const((ExtensionObject?)null),
        Gen.Select(Node.Where(n => !n.IsNull), Gen.Byte[0, 2], Octets, (n, e, b) => (ExtensionObject?)new ExtensionObject(n, (ExtensionObjectEncoding)e, e == 0 ? null : b)));

    public static readonly Gen<DiagnosticInfo?> Diagnostic = Gen.OneOf(
        Gen.Const((DiagnosticInfo?)null),
        Gen.Select(Gen.Int[-1, 5], Gen.Int[-1, 5], Text, Status, (a, b, text, status) => (DiagnosticInfo?)new DiagnosticInfo
        {
            SymbolicId = a,
            Locale = b,
            LocalizedText = 3,
            AdditionalInfo = text,
            InnerStatusCode = status,
            InnerDiagnosticInfo = a > 2 ? new DiagnosticInfo { NamespaceUri = b < 0 ? 0 : b } : null,
        }));

    public static readonly Gen<Variant> Scalar = Gen.OneOf(
        Gen.Const(default(Variant)),
        Gen.Bool.Select(v => new Variant(v)),
        Gen.SByte.Select(v => new Variant(v)),
        Gen.Byte.Select(v => new Variant(v)),
        Gen.Short.Select(v => new Variant(v)),
        Gen.UShort.Select(v => new Variant(v)),
        Gen.Int.Select(v => new Variant(v)),
        Gen.UInt.Select(v => new Variant(v)),
        Gen.Long.Select(v => new Variant(v)),
        Gen.ULong.Select(v => new Variant(v)),
        Gen.Float.Select(v => new Variant(v)),
        Gen.Double.Select(v => new Variant(v)),
        Text.Select(v => new Variant(v)),
        Time.Select(v => new Variant(v)),
        Gen.Guid.Select(v => new Variant(v)),
        Octets.Select(v => new Variant(v)),
        Text.Select(Variant.FromXml),
        Node.Select(v => new Variant(v)),
        Expanded.Select(v => new Variant(v)),
        Status.Select(v => new Variant(v)),
        Name.Select(v => new Variant(v)),
        Localized.Select(v => new Variant(v)),
        Extension.Select(v => new Variant(v)));

    public static readonly Gen<DataValue> Data = Gen.Select(Scalar, Status, Time, Time, Gen.UShort[0, 9999], Gen.UShort[0, 9999], (v, s, t1, t2, p1, p2) => new DataValue(v, s, t1, t2, p1, p2));

    public static readonly Gen<Variant> Array = Gen.OneOf(
        Gen.Bool.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.Boolean, a)),
        Gen.SByte.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.SByte, a)),
        Gen.Byte.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.Byte, a)),
        Gen.Short.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.Int16, a)),
        Gen.UShort.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.UInt16, a)),
        Gen.Int.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.Int32, a)),
        Gen.UInt.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.UInt32, a)),
        Gen.Long.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.Int64, a)),
        Gen.ULong.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.UInt64, a)),
        Gen.Float.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.Float, a)),
        Gen.Double.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.Double, a)),
        Text.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.String, a)),
        Text.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.XmlElement, a)),
        Time.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.DateTime, a)),
        Gen.Guid.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.Guid, a)),
        Octets.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.ByteString, a)),
        Node.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.NodeId, a)),
        Expanded.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.ExpandedNodeId, a)),
        Status.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.StatusCode, a)),
        Name.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.QualifiedName, a)),
        Localized.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.LocalizedText, a)),
        Extension.Array[0, 6].Select(a => Variant.FromArray(BuiltInType.ExtensionObject, a)),
        Data.Array[0, 4].Select(a => Variant.FromArray(BuiltInType.DataValue, a)),
        Scalar.Array[0, 4].Select(a => Variant.FromArray(BuiltInType.Variant, a)),
        Gen.Select(Gen.Int[1, 3], Gen.Int[1, 3], Gen.Int[1, 3], (a, b, c) => Variant.FromMatrix(BuiltInType.Double, new double[a * b * c], [a, b, c])));

    public static readonly Gen<Variant> Any = Gen.OneOf(Scalar, Array, Data.Select(d => new Variant(d)));
}
