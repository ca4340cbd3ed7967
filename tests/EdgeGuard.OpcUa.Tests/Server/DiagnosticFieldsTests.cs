using System.Reflection;
using CsCheck;
using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Server;
using EdgeGuard.OpcUa.Tests.AddressSpace;
using EdgeGuard.OpcUa.Tests.Messages;

namespace EdgeGuard.OpcUa.Tests.Server;

/// <summary>
/// Each component of a complex variable shows the field of its name. The yardstick is the definition of the structure in the
/// published nodeset: the fields by name, one after the other in its order, are the bytes of the whole structure.
/// </summary>
public sealed class DiagnosticFieldsTests
{
    private readonly TestSpace _test = new(withUnits: false);

    // Data types (NodeIds.csv): SessionDiagnosticsDataType, SessionSecurityDiagnosticsDataType, SubscriptionDiagnosticsDataType;
    // the numbers of fields are those of OPC 10000-5, 12.11, 12.12 and 12.15.
    [Fact]
    public void Every_component_of_a_session_shows_the_field_of_its_name() => Check(865, 43, DiagnosticFields.Session);

    [Fact]
    public void Every_component_of_its_security_shows_the_field_of_its_name() => Check(868, 9, DiagnosticFields.Security);

    [Fact]
    public void Every_component_of_a_subscription_shows_the_field_of_its_name() => Check(874, 31, DiagnosticFields.Subscription);

    private void Check<T>(uint dataType, int count, IReadOnlyDictionary<string, Func<T, Variant>> fields)
        where T : IUaStructure<T>
    {
        StructureField[] defined = TestSpace.Decoded<StructureDefinition>(new Variant(_test.Space.Standard<DataTypeNode>(dataType).Definition)).Fields!;
        Assert.Equal(count, defined.Length);
        Assert.Equal(defined.Select(static field => field.Name!).Order(StringComparer.Ordinal), fields.Keys.Order(StringComparer.Ordinal));
        StructureGen.Of<T>().Sample(
            filled =>
            {
                NoNulls(filled);
                byte[] joined = Wire.Bytes(writer => Array.ForEach(defined, field => Write(writer, fields[field.Name!](filled))));
                Assert.Equal(Joined(Wire.Bytes(filled.Write)), Joined(joined));
            },
            iter: 100);
    }

    // An array that is null is shown as an empty one.
    private static void NoNulls(object filled)
    {
        foreach (PropertyInfo property in filled.GetType().GetProperties().Where(property => property.PropertyType.IsArray && property.PropertyType != typeof(byte[]) && property.GetValue(filled) is null))
        {
            property.SetValue(filled, Array.CreateInstance(property.PropertyType.GetElementType()!, 0));
        }
    }

    private static string Joined(byte[] bytes) => Convert.ToHexString(bytes);

    // As within a structure: without the type in front (OPC 10000-6, 5.2.6).
    private static void Write(UaWriter writer, Variant value)
    {
        if (value.Type == BuiltInType.ExtensionObject)
        {
            value.AsExtensionObject!.Structure!.Write(writer);
            return;
        }

        writer.WriteBytes(Wire.Bytes(one => one.WriteVariant(value)).AsSpan(1));
    }
}
