using System.Reflection;
using CsCheck;
using EdgeGuard.OpcUa.Tests.Encoding;

namespace EdgeGuard.OpcUa.Tests.Messages;

/// <summary>Fills any structure of the standard at random, property by property.</summary>
internal static class StructureGen
{
    private static readonly Dictionary<Type, Gen<object?>> Known = new()
    {
        [typeof(bool)] = Gen.Bool.Select(v => (object?)v),
        [typeof(sbyte)] = Gen.SByte.Select(v => (object?)v),
        [typeof(byte)] = Gen.Byte.Select(v => (object?)v),
        [typeof(short)] = Gen.Short.Select(v => (object?)v),
        [typeof(ushort)] = Gen.UShort.Select(v => (object?)v),
        [typeof(int)] = Gen.Int.Select(v => (object?)v),
        [typeof(uint)] = Gen.UInt.Select(v => (object?)v),
        [typeof(long)] = Gen.Long.Select(v => (object?)v),
        [typeof(ulong)] = Gen.ULong.Select(v => (object?)v),
        [typeof(float)] = Gen.Float.Select(v => (object?)v),
        [typeof(double)] = Gen.Double.Select(v => (object?)v),
        [typeof(string)] = ValueGen.Text.Select(v => (object?)v),
        [typeof(byte[])] = ValueGen.Octets.Select(v => (object?)v),
        [typeof(Guid)] = Gen.Guid.Select(v => (object?)v),
        [typeof(UaDateTime)] = ValueGen.Time.Select(v => (object?)v),
        [typeof(StatusCode)] = ValueGen.Status.Select(v => (object?)v),
        [typeof(NodeId)] = ValueGen.Node.Select(v => (object?)v),
        [typeof(ExpandedNodeId)] = ValueGen.Expanded.Select(v => (object?)v),
        [typeof(QualifiedName)] = ValueGen.Name.Select(v => (object?)v),
        [typeof(LocalizedText)] = ValueGen.Localized.Select(v => (object?)v),
        [typeof(Variant)] = ValueGen.Any.Select(v => (object?)v),
        [typeof(DataValue)] = ValueGen.Data.Select(v => (object?)v),
        [typeof(ExtensionObject)] = ValueGen.Extension.Select(v => (object?)v),
        [typeof(DiagnosticInfo)] = ValueGen.Diagnostic.Select(v => (object?)v),
    };

    public static Gen<T> Of<T>() => Value(typeof(T)).Select(v => (T)v!);

    private static Gen<object?> Value(Type type)
    {
        if (Known.TryGetValue(type, out Gen<object?>? known))
        {
            return known;
        }

        Gen<object?> made = type.IsEnum ? Gen.Int.Select(v => (object?)Enum.ToObject(type, v)) : type.IsArray ? Elements(type.GetElementType()!) : Structure(type);
        Known[type] = made;
        return made;
    }

    private static Gen<object?> Elements(Type element) => Gen.OneOf(
        Gen.Const((object?)null),
        Value(element).Array[0, 3].Select(items =>
        {
            Array array = Array.CreateInstance(element, items.Length);
            for (int i = 0; i < items.Length; i++)
            {
                array.SetValue(items[i], i);
            }

            return (object?)array;
        }));

    private static Gen<object?> Structure(Type type)
    {
        PropertyInfo[] fields = [.. type.GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(p => p.CanWrite)];
        Gen<object?>[] values = [.. fields.Select(f => Value(f.PropertyType))];
        return new FilledGen(type, fields, values);
    }
}
