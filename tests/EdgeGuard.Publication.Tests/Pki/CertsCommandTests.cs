using EdgeGuard.Acceptance.Tests.Rigs;

namespace EdgeGuard.Publication.Tests.Pki;

/// <summary>The real program, as a person uses it.</summary>
public sealed class CertsCommandTests : IDisposable
{
    private readonly TestFolder _folder = new();
    private readonly string _site;

    public CertsCommandTests()
    {
        _site = TestSite.N1(15020).Write(_folder.File("site"));
    }

    [Fact]
    public void Trust_list_show_reject_and_renew_tell_cause_days_thumbprint_and_URI()
    {
        byte[] client = PkiBench.Make("client", DateTime.UtcNow, 25);
        string thumbprint = PkiBench.Facts(client).Thumbprint;
        string file = _folder.File("client.der");
        File.WriteAllBytes(file, client);

        CommandLine shown = Certs("show", file);
        Assert.Equal(0, shown.ExitCode);
        Assert.Contains("would be refused (BadCertificateUntrusted): not trusted: CN=client", shown.Output, StringComparison.Ordinal);
        Assert.Contains("as a client  would be accepted", Certs("trust", file).Output, StringComparison.Ordinal);
        Assert.Contains($"  {thumbprint}  24 DAYS LEFT  CN=client  urn:pilot-hall:client", Certs("list").Output, StringComparison.Ordinal);
        Assert.Equal(0, Certs("reject", thumbprint[..8]).ExitCode);
        Assert.Contains("(BadCertificateUntrusted): trust was taken away by command", Certs("list").Output, StringComparison.Ordinal);
        Assert.Equal(1, Certs("reject", thumbprint).ExitCode);

        CommandLine renewed = Certs("renew", "--host", "edge.hall", "--host", "10.0.0.9", "--uri", "urn:edge:hall");
        Assert.True(renewed.ExitCode == 0, renewed.Errors);
        Assert.Contains("hosts        edge.hall, 10.0.0.9", Certs("show", "own").Output, StringComparison.Ordinal);
        Assert.Equal(0, Certs("renew").ExitCode);
        CommandLine own = Certs("show", "own");
        Assert.Contains("URI          urn:edge:hall", own.Output, StringComparison.Ordinal);
        Assert.Contains("hosts        edge.hall, 10.0.0.9", own.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_unknown_is_refused_with_what_to_try()
    {
        CommandLine unknown = Certs("trust", "0011223344");
        Assert.Equal(1, unknown.ExitCode);
        Assert.Contains("try edgeguard certs list", unknown.Errors, StringComparison.Ordinal);
        string garbage = _folder.File("garbage.der");
        File.WriteAllBytes(garbage, [1, 2, 3]);
        Assert.Contains("no X.509 certificate", Certs("trust", garbage).Errors, StringComparison.Ordinal);
        Assert.Equal(64, Certs("renew", "--bits", "1024").ExitCode);
        Assert.Equal(78, CommandLine.Run("certs", "list", "--site", _folder.File("nowhere")).ExitCode);
    }

    public void Dispose() => _folder.Dispose();

    private CommandLine Certs(params string[] arguments) => CommandLine.Run(["certs", .. arguments, "--site", _site]);
}
