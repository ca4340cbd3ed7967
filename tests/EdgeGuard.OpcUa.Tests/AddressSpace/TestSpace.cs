using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.Services;

namespace EdgeGuard.OpcUa.Tests.AddressSpace;

/// <summary>A space as a server has it: the standard nodes, the Server object, two units with a few signals each.</summary>
internal sealed class TestSpace : IServerState
{
    public const string ApplicationUri = "urn:plant-pc:edgeguard";
    public static readonly UaDateTime Start = UaDateTime.FromUtc(new DateTime(2026, 5, 1, 6, 0, 0, DateTimeKind.Utc));
    public static readonly UaDateTime Now = UaDateTime.FromUtc(new DateTime(2026, 5, 1, 8, 0, 0, DateTimeKind.Utc));
    public static readonly CallerContext Operator = new() { Roles = CallerRoles.Anonymous | CallerRoles.AuthenticatedUser | CallerRoles.Operator, UserName = "shift A" };

    public TestSpace(bool withUnits = true)
    {
        Space = new NodeSpace(Start);
        (Version, _) = StandardNodes.Load(Space);
        Facts = new ServerFacts
        {
            ApplicationUri = ApplicationUri,
            Namespaces = ["urn:edgeguard:plant"],
            ProductUri = "urn:edgeguard",
            ManufacturerName = "EdgeGuard",
            ProductName = "EdgeGuard",
            SoftwareVersion = "0.1.0",
            BuildDate = Start,
        };
        ServerObject.Fill(Space, Facts, this);
        Builder = new SpaceBuilder(Space);
        if (withUnits)
        {
            AddUnits();
        }
    }

    public void AddUnits()
    {
        AddUnit("N-1");
        AddUnit("A-1");
    }

    public NodeSpace Space { get; }

    public string Version { get; }

    public ServerFacts Facts { get; }

    public SpaceBuilder Builder { get; }

    public OperationLimits Limits { get; set; } = new();

    public DataValue? Written { get; private set; }

    public ServerState State => ServerState.Running;

    public UaDateTime StateSince => Start;

    public byte ServiceLevel => 255;

    public bool Auditing => false;

    public uint SecondsTillShutdown => 0;

    public LocalizedText ShutdownReason => default;

    public ServerDiagnosticsSummaryDataType? DiagnosticsSummary { get; set; } = new() { CurrentSessionCount = 3 };

    public static NodeId Signal(string path) => new(2, path);

    public ServiceContext Context(CallerContext? caller = null) => new(Space, caller ?? CallerContext.AnonymousReader, Now, Limits);

    public VariableNode Variable(string path) => (VariableNode)Space.Find(Signal(path))!;

    public DataValue Read(NodeId nodeId, AttributeId attribute = AttributeId.Value, string? range = null, CallerContext? caller = null) =>
        AttributeReader.Read(Context(caller), new ReadValueId { NodeId = nodeId, AttributeId = (uint)attribute, IndexRange = range });

    public Variant Value(uint standard) => Good(Read(new NodeId(standard)));

    public static Variant Good(DataValue value)
    {
        Assert.Equal(StatusCode.Good, value.Status);
        return value.Value;
    }

    public static T Decoded<T>(Variant value)
        where T : IUaStructure<T>
    {
        Assert.Equal(StatusCode.Good, value.AsExtensionObject!.TryDecode(UaLimits.Default, out T? decoded));
        return decoded!;
    }

    private void AddUnit(string unit)
    {
        ObjectNode folder = Builder.AddFolder(Builder.Objects, unit, unit, "Gas heater");
        var number = new NodeId(StandardIds.Double);
        Builder.AddAnalog(folder, new VariableSpec($"{unit}/outlet", "outlet", number) { Definition = "input register 2, float32" }, "°C", -50, 1200);
        Builder.AddAnalog(folder, new VariableSpec($"{unit}/flow", "flow", number), "kg/h");
        Builder.AddTwoState(folder, new VariableSpec($"{unit}/enable", "enable", new NodeId(StandardIds.Boolean)), "energised", "de-energised");
        Builder.AddMultiState(folder, new VariableSpec($"{unit}/mode", "mode", new NodeId(StandardIds.UInt32)), ["automatic", "manual"]);
        Builder.AddMultiStateValues(folder, new VariableSpec($"{unit}/trip", "trip", new NodeId(StandardIds.Int32)), new Dictionary<long, string> { [0] = "none", [10] = "outlet high" });
        var note = new VariableSpec($"{unit}/note", "note", new NodeId(StandardIds.String)) { WriteHandler = TakeNote, WriteRoles = CallerRoles.Operator };
        Builder.AddVariable(folder, note).Set(new Variant("shift note"), Now);
        Builder.AddVariable(folder, new VariableSpec($"{unit}/profile", "profile", number) { ValueRank = 1 }).Set(Variant.FromArray(BuiltInType.Double, new double[] { 10, 20, 30, 40, 50 }), Now);
        Builder.AddMethod(folder, $"{unit}/reset", "reset", static (_, _, _) => new CallMethodResult(), CallerRoles.Operator, [SpaceBuilder.Scalar("person", StandardIds.String, "who resets")], []);
    }

    private StatusCode TakeNote(CallerContext caller, VariableNode variable, in DataValue value)
    {
        Written = value;
        variable.Set(value with { SourceTimestamp = Now });
        return StatusCode.Good;
    }
}
