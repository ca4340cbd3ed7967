using System.Reflection;
using CsCheck;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Tests.Messages;

/// <summary>Every generated structure, filled at random, comes back with the same bytes; mutations of it never throw.</summary>
public sealed class MessageRoundTripTests
{
    private const int MutationsPerStructure = 100;
    private static readonly Type[] Structures = [.. typeof(ReadRequest).Assembly.GetTypes().Where(t => !t.IsInterface && !t.IsAbstract && typeof(IUaStructure).IsAssignableFrom(t)).OrderBy(t => t.Name, StringComparer.Ordinal)];

    // Services that are asked of others and not served.
    private static readonly Type[] Asked = [typeof(RegisterServerRequest), typeof(RegisterServer2Request)];

    // Request identifiers are dispatched over a table; a type missing there would be answered with BadServiceUnsupported.
    [Fact]
    public void Every_request_and_response_is_found_by_its_identifier()
    {
        foreach (Type type in Structures.Where(t => typeof(IServiceRequest).IsAssignableFrom(t)))
        {
            byte[] body = Wire.Bytes(w => ServiceMessage.Write(w, (IUaStructure)Activator.CreateInstance(type)!));
            StatusCode status = ServiceMessage.TryReadRequest(body, UaLimits.Default, out IServiceRequest? request, out _);
            if (Asked.Contains(type))
            {
                Assert.Equal(StatusCode.BadServiceUnsupported, status);
                continue;
            }

            Assert.Equal(StatusCode.Good, status);
            Assert.IsType(type, request);
        }

        foreach (Type type in Structures.Where(t => typeof(IServiceResponse).IsAssignableFrom(t)))
        {
            byte[] body = Wire.Bytes(w => ServiceMessage.Write(w, (IUaStructure)Activator.CreateInstance(type)!));
            Assert.Equal(StatusCode.Good, ServiceMessage.TryReadResponse(body, UaLimits.Default, out IServiceResponse? response));
            Assert.IsType(type, response);
        }
    }

    // NodeIds.csv of the standard, names ..._Encoding_DefaultBinary.
    [Theory]
    [InlineData(nameof(OpenSecureChannelRequest), 446)]
    [InlineData(nameof(OpenSecureChannelResponse), 449)]
    [InlineData(nameof(CreateSessionRequest), 461)]
    [InlineData(nameof(GetEndpointsRequest), 428)]
    [InlineData(nameof(RegisterServerRequest), 437)]
    [InlineData(nameof(RegisterServer2Request), 12211)]
    [InlineData(nameof(ReadRequest), 631)]
    [InlineData(nameof(ReadResponse), 634)]
    [InlineData(nameof(HistoryReadRequest), 664)]
    [InlineData(nameof(ServiceFault), 397)]
    [InlineData("Range", 886)]
    [InlineData(nameof(EUInformation), 889)]
    [InlineData(nameof(Argument), 298)]
    [InlineData(nameof(ServerStatusDataType), 864)]
    [InlineData(nameof(BuildInfo), 340)]
    public void Encoding_identifiers_are_those_of_the_published_table(string name, uint id)
    {
        Assert.Equal(id, ((IUaStructure)Activator.CreateInstance(Structures.Single(t => string.Equals(t.Name, name, StringComparison.Ordinal)))!).BinaryEncodingId);
    }

    [Fact]
    public void Every_structure_has_its_own_encoding_identifier()
    {
        uint[] ids = [.. Structures.Select(t => ((IUaStructure)Activator.CreateInstance(t)!).BinaryEncodingId)];
        Assert.True(ids.Length > 130, "structures are missing: " + ids.Length);
        Assert.DoesNotContain(0u, ids);
        Assert.Equal(ids.Length, ids.Distinct().Count());
    }

    [Fact]
    public void Every_structure_comes_back_with_the_same_bytes()
    {
        foreach (Type type in Structures)
        {
            Run(nameof(RoundTrip), type);
        }
    }

    [Fact]
    public void Every_structure_mutated_or_cut_fails_softly()
    {
        foreach (Type type in Structures)
        {
            Run(nameof(Mutate), type);
        }

        FuzzScale.Tell((long)Structures.Length * FuzzScale.Of(MutationsPerStructure), "structures with a byte changed or cut short");
    }

    [Fact]
    public void A_request_of_an_unknown_type_gives_its_header_for_the_fault()
    {
        byte[] body = Wire.Bytes(w =>
        {
            w.WriteNodeId(new NodeId(488)); // AddNodesRequest
            new RequestHeader { RequestHandle = 77 }.Write(w);
            w.WriteInt32(0);
        });
        Assert.Equal(StatusCode.BadServiceUnsupported, ServiceMessage.TryReadRequest(body, UaLimits.Default, out IServiceRequest? request, out RequestHeader header));
        Assert.Null(request);
        Assert.Equal(77u, header.RequestHandle);
    }

    [Fact]
    public void Bytes_after_a_request_are_refused_and_the_header_still_known()
    {
        var read = new ReadRequest { RequestHeader = new RequestHeader { RequestHandle = 5 } };
        byte[] body = Wire.Bytes(w => ServiceMessage.Write(w, read));
        Assert.Equal(StatusCode.Good, ServiceMessage.TryReadRequest(body, UaLimits.Default, out IServiceRequest? request, out _));
        Assert.IsType<ReadRequest>(request);
        Assert.Equal(StatusCode.BadDecodingError, ServiceMessage.TryReadRequest([.. body, 0], UaLimits.Default, out request, out RequestHeader header));
        Assert.Null(request);
        Assert.Equal(5u, header.RequestHandle);
    }

    [Fact]
    public void A_known_structure_in_an_ExtensionObject_is_decoded_and_another_is_refused()
    {
        var range = new EdgeGuard.OpcUa.Messages.Range { Low = -1, High = 750 };
        byte[] bytes = Wire.Bytes(w => w.WriteExtensionObject(new ExtensionObject(range)));
        // i=886 in the four-byte form, binary body of 16 bytes.
        Assert.Equal("01007603" + "01" + "10000000", Convert.ToHexString(bytes)[..18]);
        var reader = new UaReader(bytes);
        ExtensionObject found = reader.ReadExtensionObject()!;
        Assert.Equal(StatusCode.Good, found.TryDecode(UaLimits.Default, out EdgeGuard.OpcUa.Messages.Range back));
        Assert.Equal((-1, 750), (back.Low, back.High));
        Assert.Equal(StatusCode.BadDecodingError, found.TryDecode(UaLimits.Default, out Argument? argument));
        Assert.Null(argument);
        var tooLong = new ExtensionObject(found.TypeId, ExtensionObjectEncoding.Binary, [.. found.Body!, 0]);
        Assert.Equal(StatusCode.BadDecodingError, tooLong.TryDecode(UaLimits.Default, out back));
    }

    private static void Run(string method, Type type) =>
        typeof(MessageRoundTripTests).GetMethod(method, BindingFlags.NonPublic | BindingFlags.Static)!.MakeGenericMethod(type).Invoke(null, null);

    private static void RoundTrip<T>()
        where T : IUaStructure<T> => StructureGen.Of<T>().Sample(
        value =>
        {
            byte[] bytes = Wire.Bytes(value.Write);
            var reader = new UaReader(bytes);
            T back = T.Read(ref reader);
            Assert.True(bytes.Length >= T.BytesMin);
            return !reader.Failed && reader.Remaining == 0 && Wire.Bytes(back.Write).AsSpan().SequenceEqual(bytes);
        },
        iter: 100, threads: 1);

    private static void Mutate<T>()
        where T : IUaStructure<T> => Gen.Select(StructureGen.Of<T>(), Gen.Int[0, int.MaxValue], Gen.Byte, Gen.Bool).Sample(
        (value, at, octet, cut) =>
        {
            byte[] bytes = Wire.Bytes(value.Write);
            if (bytes.Length == 0)
            {
                return;
            }

            bytes[at % bytes.Length] = octet;
            var reader = new UaReader(bytes.AsSpan(0, cut ? at % bytes.Length : bytes.Length));
            T.Read(ref reader);
            Assert.True(reader.Failed || reader.Remaining >= 0);
        },
        iter: FuzzScale.Of(MutationsPerStructure), threads: 1);
}
