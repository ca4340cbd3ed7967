namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>Numbers of the nodes of namespace 0 that the code names (OPC 10000-6, annex A.3: NodeIds.csv).</summary>
public static class StandardIds
{
#pragma warning disable CS1591 // The name is the browse name of the standard.
    public const uint Boolean = 1;
    public const uint Byte = 3;
    public const uint UInt16 = 5;
    public const uint Int32 = 6;
    public const uint UInt32 = 7;
    public const uint Double = 11;
    public const uint String = 12;
    public const uint DateTime = 13;
    public const uint LocalizedText = 21;
    public const uint Structure = 22;
    public const uint BaseDataType = 24;
    public const uint Enumeration = 29;
    public const uint References = 31;
    public const uint HierarchicalReferences = 33;
    public const uint Organizes = 35;
    public const uint HasEventSource = 36;
    public const uint HasModellingRule = 37;
    public const uint HasEncoding = 38;
    public const uint HasTypeDefinition = 40;
    public const uint HasSubtype = 45;
    public const uint HasProperty = 46;
    public const uint HasComponent = 47;
    public const uint HasNotifier = 48;
    public const uint BaseObjectType = 58;
    public const uint FolderType = 61;
    public const uint BaseDataVariableType = 63;
    public const uint PropertyType = 68;
    public const uint RootFolder = 84;
    public const uint ObjectsFolder = 85;
    public const uint TypesFolder = 86;
    public const uint ViewsFolder = 87;
    public const uint Duration = 290;
    public const uint UtcTime = 294;
    public const uint Argument = 296;
    public const uint EnumValueType = 7594;
    public const uint Range = 884;
    public const uint EUInformation = 887;
    public const uint Server = 2253;
    public const uint ServerArray = 2254;
    public const uint NamespaceArray = 2255;
    public const uint ServerStatus = 2256;
    public const uint ServiceLevel = 2267;
    public const uint ServerCapabilities = 2268;
    public const uint ServerDiagnostics = 2274;
    public const uint SubscriptionDiagnosticsArray = 2290;
    public const uint SessionsDiagnosticsSummary = 3706;
    public const uint SessionDiagnosticsArray = 3707;
    public const uint SessionSecurityDiagnosticsArray = 3708;
    public const uint SessionDiagnosticsObjectType = 2029;
    public const uint SubscriptionDiagnosticsArrayType = 2171;
    public const uint SubscriptionDiagnosticsType = 2172;
    public const uint SessionDiagnosticsVariableType = 2197;
    public const uint SessionSecurityDiagnosticsType = 2244;
    public const uint ServerRedundancySupport = 3709;
    public const uint Auditing = 2994;
    public const uint TwoStateDiscreteType = 2373;
    public const uint MultiStateDiscreteType = 2376;
    public const uint MultiStateValueDiscreteType = 11238;
    public const uint AnalogUnitType = 17497;
    public const uint AnalogUnitRangeType = 17570;
#pragma warning restore CS1591
}
