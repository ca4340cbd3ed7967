using System.Net.Sockets;
using System.Runtime.Versioning;
using System.Text.Json;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Acceptance.Tests.RealTime;

/// <summary>
/// Who can ask a running guard. It has one door, a Unix socket, at which the kernel says who knocks; a stranger is kept out by
/// the mode of the socket and, where somebody opened that, by his identity, whatever name his message carries.
/// </summary>
[SupportedOSPlatform("linux")]
public sealed class RequestDoorTests
{
    private const string LetMeIn = "let me in";
    private const UnixFileMode AnybodyMay = (UnixFileMode)0x1FF; // 0777, chmod(2)

    [Trait("requirement", "REQU-3")]
    [Fact]
    public void A_stranger_is_kept_out_by_the_kernel_and_where_the_socket_was_opened_to_all_by_his_identity()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() && Environment.IsPrivilegedProcess, "only root on Linux can ask as somebody else");
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Quick().Patient().Write(folder.File("site"));
        using var guard = GuardChild.Start(folder, site);
        string socket = RequestClient.SocketPath(guard.Data);
        foreach (string path in (string[])[folder.Path, site, guard.Data])
        {
            File.SetUnixFileMode(path, AnybodyMay);
        }

        AggregateException closed = Assert.Throws<AggregateException>(() => Stranger(guard, "reset"));
        Assert.Equal(SocketError.AccessDenied, Assert.IsType<SocketException>(closed.InnerException).SocketErrorCode);

        File.SetUnixFileMode(socket, AnybodyMay);
        guard.Await("power proved off", static s => s.Units[0].PowerProvedOff);
        Assert.All((string[])["reset", "stop", RequestReader.Status, RequestReader.Noted], kind => Assert.Equal("denied", Stranger(guard, kind).Result));
        Assert.Equal("Tripped", GuardChild.StateOf(guard.Await("a status", static _ => true)));

        // The same line from the user the guard runs as is taken: it was the identity, and nothing else.
        guard.AskUntilAccepted("reset");
        Assert.Equal(ExitCode.Good, guard.Terminate());
        CheckJournal(guard.Data);
    }

    [Trait("requirement", "REQU-3")]
    [Fact]
    public void The_guard_listens_on_its_request_socket_and_on_nothing_else()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "what a process listens on is told on Linux only");
        using var folder = new TestFolder();
        using var plant = PlantChild.Start(folder, "N-1");
        string site = TestSite.N1(plant.Ports[0]).Patient().Write(folder.File("site"));
        using var guard = GuardChild.Start(folder, site);
        // The diagnostics of the runtime have a socket of their own that its user alone can open.
        Assert.Equal(["unix " + RequestClient.SocketPath(guard.Data)], OpenDoors.Of(guard.Id).Where(static d => !d.Contains("/dotnet-diagnostic-", StringComparison.Ordinal)));
        Assert.Contains(OpenDoors.Of(plant.Id), static d => d.StartsWith("tcp ", StringComparison.Ordinal)); // a door is seen where there is one
    }

    private static RequestAnswer Stranger(GuardChild guard, string kind)
    {
        var message = new RequestMessage { Kind = kind, Unit = "N-1", Reason = LetMeIn, Person = "root" };
        byte[] line = OtherUser.Do(() => RequestClient.Exchange(guard.Data, message, 60_000));
        return JsonSerializer.Deserialize(line, RequestJson.Default.RequestAnswer)!;
    }

    private static void CheckJournal(string data)
    {
        IReadOnlyList<JournalRecord> run = JournalLines.LastRun(data);
        string[] rejected = [.. run.Where(static r => r["event"] == "request-rejected").Select(static r => r["person"] ?? "")];
        Assert.NotEmpty(rejected);
        Assert.All(rejected, static p => Assert.Contains($"uid {OtherUser.Uid}", p, StringComparison.Ordinal));
        IReadOnlyList<JournalRecord> received = [.. run.Where(static r => r["event"] == "request-received")];
        Assert.NotEmpty(received);
        Assert.All(received, static r => Assert.Contains("uid 0", r["person"], StringComparison.Ordinal));
        Assert.DoesNotContain(run, static r => r["reason"] == LetMeIn);
    }
}
