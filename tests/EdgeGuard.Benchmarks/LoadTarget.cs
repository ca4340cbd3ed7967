using System.Globalization;
using EdgeGuard.OpcUa.Messages;
using EdgeGuard.OpcUa.SecureChannel;

namespace EdgeGuard.Benchmarks;

/// <summary>A server under load.</summary>
/// <param name="Name">Name in the table.</param>
/// <param name="Port">Port on this machine.</param>
/// <param name="NamespaceIndex">Namespace of its variables.</param>
internal sealed record LoadTarget(string Name, int Port, ushort NamespaceIndex)
{
    /// <summary>Its certificate, known after <see cref="Learn"/>.</summary>
    public byte[]? Certificate { get; private init; }

    public string Url => string.Create(CultureInfo.InvariantCulture, $"opc.tcp://127.0.0.1:{Port}");

    /// <summary>The same with the certificate that its endpoints tell.</summary>
    public LoadTarget Learn()
    {
        using var client = new LoadClient(this, own: null);
        GetEndpointsResponse told = client.Ask<GetEndpointsResponse>(new GetEndpointsRequest { EndpointUrl = Url });
        EndpointDescription endpoint = told.Endpoints!.First(static endpoint => endpoint.SecurityPolicyUri == SecurityPolicy.Basic256Sha256.Uri && endpoint.SecurityMode == MessageSecurityMode.SignAndEncrypt);
        return this with { Certificate = endpoint.ServerCertificate };
    }
}
