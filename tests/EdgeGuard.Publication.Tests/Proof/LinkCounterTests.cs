using System.Globalization;
using System.Text.Json;
using EdgeGuard.Acceptance.Tests.Rigs;
using EdgeGuard.Modbus.Framing;
using EdgeGuard.Publication.Tests.Rigs;
using EdgeGuard.Records.Ring;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Publication.Tests.Proof;

/// <summary>
/// Every kind of misbehaviour, one after the other, towards a real guard, over Modbus TCP and over RTU in TCP: the
/// independent client reads over OPC UA that the counter of that kind, and no other, has counted it; ring and status agree.
/// </summary>
public sealed class LinkCounterTests : IDisposable
{
    private const int PatienceMs = 60_000;
    private const int RoundsMax = 3;

    // Requests of the example map: the meter is read by function 4, the trip relay written by 6.
    private static readonly (byte Unit, byte Function) MeterRead = (2, 4);
    private static readonly (byte Unit, byte Function) RelayWrite = (1, 6);

    /// <summary>What moves because of the faults, however often, and is no cause.</summary>
    private static readonly LinkFigure[] Consequences =
    [
        LinkFigure.FailedReads, LinkFigure.FailedWrites, LinkFigure.DroppedWrites, LinkFigure.WithheldWrites, LinkFigure.SupersededWrites, LinkFigure.HeldRenewals,
        LinkFigure.Losses, LinkFigure.BackOffs, LinkFigure.PollOverruns,
    ];

    /// <summary>On a line that stays open the unit that failed is left alone for a while, so that its late answer cannot be mistaken.</summary>
    private static readonly LinkFigure[] RtuConsequences = [.. Consequences, LinkFigure.Timeouts, LinkFigure.DeferredRequests];

    /// <summary>What no misbehaviour on an open connection brings about, and where it is proved instead.</summary>
    private static readonly LinkFigure[] ProvedElsewhere =
    [
        LinkFigure.UnreachedConnects, LinkFigure.FailedConnects, LinkFigure.DroppedWrites, LinkFigure.WithheldWrites, LinkFigure.SupersededWrites, LinkFigure.HeldRenewals, // LinkCopiesTests
        LinkFigure.SplitRequests, // LinkEngineBusTests
        LinkFigure.ReplacedFunctions, // WriteFunctionTests
        LinkFigure.Faults, LinkFigure.PollOverruns, // LinkWorkerTests
        LinkFigure.Broadcasts, // RtuLinkTests; the guard sends none
    ];

    private static readonly WireFault[] TcpFaults =
    [
        new("another unit", MeterRead, (a, _) => [With(a, 6, 9)], (LinkFigure.BadAnswers, 1), (LinkFigure.WrongUnit, 1)),
        new("another function", MeterRead, (a, _) => [With(a, 7, 3)], (LinkFigure.BadAnswers, 1), (LinkFigure.WrongFunction, 1)),
        new("a byte too few", MeterRead, (a, _) => [With(a, 5, (byte)(a[5] - 1))[..^1]], (LinkFigure.BadAnswers, 1), (LinkFigure.WrongLength, 1)),
        new("another echo", RelayWrite, (a, _) => [With(a, a.Length - 1, 7)], (LinkFigure.BadAnswers, 1), (LinkFigure.WrongEcho, 1)),
        new("a transaction never begun", MeterRead, (a, _) => [With(a, 0, (byte)(a[0] ^ 0x40))], (LinkFigure.BadAnswers, 1), (LinkFigure.WrongTransaction, 1)),
        new("another protocol", MeterRead, (a, _) => [With(a, 2, 1)], (LinkFigure.BadAnswers, 1), (LinkFigure.Malformed, 1)),
        new("cut short", MeterRead, (a, _) => [a[..^1]], (LinkFigure.Timeouts, 1), (LinkFigure.TruncatedAnswers, 1)),
        new("silence", MeterRead, (_, _) => [], (LinkFigure.Timeouts, 1), (LinkFigure.SilentClosings, 1)),
        new("the answer before once more", MeterRead, (a, b) => [b, a], (LinkFigure.LateAnswers, 1), (LinkFigure.DuplicateAnswers, 1)),
        new("in two pieces", MeterRead, (a, _) => [a[..9], a[9..]], (LinkFigure.SplitAnswers, 1)),
        new("twice in one piece", MeterRead, (a, _) => [[.. a, .. a]], (LinkFigure.GluedAnswers, 1), (LinkFigure.LateAnswers, 1), (LinkFigure.DuplicateAnswers, 1)),
        new("transaction 0", MeterRead, (a, _) => [With(With(a, 0, 0), 1, 0)], (LinkFigure.ZeroTransactionIds, 1)),
        new("the connection closed", MeterRead, (_, _) => null, (LinkFigure.BrokenRequests, 1)),
        new("the connection closed, and the next before any answer", MeterRead, (_, _) => null, (LinkFigure.BrokenRequests, 2), (LinkFigure.UnprovedConnects, 1)) { ThenRejects = 1 },
        Exception(0x01, LinkFigure.Exception01),
        Exception(0x02, LinkFigure.Exception02),
        Exception(0x03, LinkFigure.Exception03),
        Exception(0x04, LinkFigure.Exception04),
        Exception(0x05, LinkFigure.Exception05),
        Exception(0x06, LinkFigure.Exception06),
        Exception(0x07, LinkFigure.OtherExceptions),
        Exception(0x08, LinkFigure.Exception08),
        Exception(0x0A, LinkFigure.Exception0A),
        Exception(0x0B, LinkFigure.Exception0B),
    ];

    private static readonly WireFault[] RtuFaults =
    [
        new("noise behind the answer", MeterRead, (a, _) => [[.. a, 0xFF, 0xFF, 0xFF]], (LinkFigure.NoiseBytes, 3)),
        new("twice in one piece", MeterRead, (a, _) => [[.. a, .. a]], (LinkFigure.LateAnswers, 1), (LinkFigure.DuplicateAnswers, 1)),
        new("wrong checksum", MeterRead, (a, _) => [With(a, a.Length - 1, (byte)(a[^1] ^ 1))], (LinkFigure.BadAnswers, 1), (LinkFigure.ChecksumErrors, 1)),
        new("another unit", MeterRead, (a, _) => [RtuUnit(a, 9)], (LinkFigure.BadAnswers, 1), (LinkFigure.WrongUnit, 1)),
        new("silence", MeterRead, (_, _) => [], (LinkFigure.Timeouts, 1), (LinkFigure.DeferredRequests, 1)),
    ];

    private readonly TestFolder _folder = new();
    private readonly FaultPeer _tcp = new(isRtu: false);
    private readonly FaultPeer _rtu = new(isRtu: true);

    public void Dispose()
    {
        _tcp.Dispose();
        _rtu.Dispose();
        _folder.Dispose();
    }

    [Trait("requirement", "MODB-8")]
    [Fact]
    public void Each_kind_of_misbehaviour_is_counted_by_its_counter_and_read_over_OPC_UA()
    {
        string site = TestSite.Hall(_tcp.Port, _rtu.Port)
            .With("\"name\": \"n1\", ", "\"name\": \"n1\", \"zeroTransactionIds\": true, \"answerMs\": 700, ")
            .With("\"name\": \"a1\", ", "\"name\": \"a1\", \"transport\": \"rtuTcp\", \"answerMs\": 700, ")
            .Write(_folder.File("site"));
        using GuardChild guard = GuardChild.Start(_folder, site);
        guard.Await("both links up", static s => s.Links.All(static l => l.Online));
        using var publisher = new PublisherChild(_folder, site);
        using var client = new NodeClient(_folder.Path);
        JsonElement connected = client.Connect(publisher.Port);
        Assert.True(connected.GetProperty("ok").GetBoolean(), connected.ToString());

        Dictionary<LinkFigure, long> tcp = Inject(client, "n1", _tcp, TcpFaults, Consequences);
        Dictionary<LinkFigure, long> rtu = Inject(client, "a1", _rtu, RtuFaults, RtuConsequences);
        _tcp.Give(new WireFault("gone", MeterRead, static (_, _) => null));
        _tcp.GoAway(500);
        tcp = Await(client, "n1", "an attempt that is refused", static f => f[LinkFigure.RefusedConnects] > 0 && f[LinkFigure.State] == 1);
        LinkFigure[] still = [.. Enum.GetValues<LinkFigure>().Where(f => tcp[f] + rtu[f] == 0).Except(ProvedElsewhere)];
        Assert.True(still.Length == 0, $"never moved, and not said to be proved elsewhere: {string.Join(", ", still)}");
        Assert.Equal(tcp[LinkFigure.BackOffs], tcp[LinkFigure.RefusedConnects] + tcp[LinkFigure.UnreachedConnects] + tcp[LinkFigure.FailedConnects] + tcp[LinkFigure.UnprovedConnects]);

        AssertStatusAndRingAgree(guard, tcp);
        AssertToldInWords(site, tcp);
    }

    /// <summary>
    /// One fault after the other; at the end no cause has counted anything but them. A machine that holds up an answer beyond
    /// its time limit adds faults of its own, but not in each of some rounds.
    /// </summary>
    private static Dictionary<LinkFigure, long> Inject(NodeClient client, string link, FaultPeer peer, WireFault[] faults, LinkFigure[] consequences)
    {
        LinkFigure[] causes = [.. LinkFigureTexts.All.Where(static t => t.Kind == LinkFigureKind.Trouble).Select(static t => t.Figure).Except(consequences)];
        (Dictionary<LinkFigure, long> expected, Dictionary<LinkFigure, long> last) = ([], []);
        for (int round = 0; round < RoundsMax && (round == 0 || Text(expected, causes) != Text(last, causes)); round++)
        {
            (expected, last) = InjectAll(client, link, peer, faults);
        }

        Assert.Equal(Text(expected, causes), Text(last, causes));
        return last;
    }

    private static (Dictionary<LinkFigure, long> Expected, Dictionary<LinkFigure, long> Last) InjectAll(NodeClient client, string link, FaultPeer peer, WireFault[] faults)
    {
        Dictionary<LinkFigure, long> first = Await(client, link, "the link is up", static f => f[LinkFigure.State] == 1);
        Dictionary<LinkFigure, long> expected = new(first);
        foreach (WireFault fault in faults)
        {
            foreach ((LinkFigure figure, long by) in fault.Moves)
            {
                expected[figure] += by;
            }

            peer.Give(fault);
            Await(client, link, fault.Name, f => peer.HasHappened && f[LinkFigure.State] == 1 && fault.Moves.All(m => f[m.Figure] >= expected[m.Figure]));
        }

        return (expected, Read(client, link));
    }

    private static Dictionary<LinkFigure, long> Await(NodeClient client, string link, string what, Func<Dictionary<LinkFigure, long>, bool> condition)
    {
        Dictionary<LinkFigure, long> found = [];
        bool isThere = SpinWait.SpinUntil(
            () =>
            {
                found = Read(client, link);
                return condition(found);
            },
            PatienceMs);
        Assert.True(isThere, $"{link}, {what}: {Text(found, Enum.GetValues<LinkFigure>())}");
        return found;
    }

    private static Dictionary<LinkFigure, long> Read(NodeClient client, string link)
    {
        LinkFigure[] figures = Enum.GetValues<LinkFigure>();
        JsonElement[] values = client.Read([.. figures.Select(f => $"ns=2;s=/links/{link}/{f}")]);
        return figures.Zip(values).ToDictionary(static p => p.First, static p => Number(p.Second));
    }

    // Round trips come in ms, as a real number; the link as a truth.
    private static long Number(JsonElement value)
    {
        Assert.Equal(0u, value.GetProperty("status").GetUInt32());
        JsonElement v = value.GetProperty("value");
        return v.ValueKind switch
        {
            JsonValueKind.True => 1,
            JsonValueKind.False => 0,
            _ => (long)Math.Ceiling(v.GetDouble()),
        };
    }

    private static void AssertStatusAndRingAgree(GuardChild guard, Dictionary<LinkFigure, long> published)
    {
        using ScanRingReader ring = guard.OpenRing();
        var words = new ScanRingLink();
        ring.ReadLink(0, words);
        LinkStatus status = guard.Await("a status", static _ => true).Links[0];
        foreach (LinkFigureText text in LinkFigureTexts.All.Where(static t => t.Kind == LinkFigureKind.Trouble && !Consequences.Contains(t.Figure)))
        {
            Assert.Equal((text.Name, published[text.Figure], published[text.Figure]), (text.Name, words[text.Figure], status.Of(text.Figure)));
        }

        // Each request has ended as one thing; one may be open.
        long ended = words[LinkFigure.Answers] + words[LinkFigure.Exceptions] + words[LinkFigure.Timeouts] + words[LinkFigure.BadAnswers] + words[LinkFigure.BrokenRequests];
        Assert.InRange(words[LinkFigure.Requests] - ended, 0, 1);
        long engine = words[LinkFigure.GoodReads] + words[LinkFigure.FailedReads] + words[LinkFigure.GoodWrites] + words[LinkFigure.FailedWrites];
        Assert.InRange(words[LinkFigure.Requests] - engine, 0, 1);
    }

    private static void AssertToldInWords(string site, Dictionary<LinkFigure, long> published)
    {
        string[] lines = CommandLine.Run("status", "--site", site).Output.Split('\n');
        int first = Array.FindIndex(lines, static l => l.StartsWith("link     n1 ", StringComparison.Ordinal)) + 1;
        string[] told = [.. lines.Skip(first).TakeWhile(static l => l.StartsWith("  ", StringComparison.Ordinal))];
        foreach (LinkFigureText text in LinkFigureTexts.All.Where(t => t.Kind == LinkFigureKind.Trouble && !Consequences.Contains(t.Figure)))
        {
            string line = string.Create(CultureInfo.InvariantCulture, $"{published[text.Figure]}  {text.Name}: {text.Title}; look at: {text.LookAt}");
            Assert.Equal((text.Name, published[text.Figure] > 0 ? 1 : 0), (text.Name, told.Count(l => l.TrimStart() == line)));
        }
    }

    private static WireFault Exception(byte code, LinkFigure figure) =>
        new($"exception {code:X2}", MeterRead, (a, _) => [[.. a[..5], 3, a[6], (byte)(a[7] | 0x80), code]], (LinkFigure.Exceptions, 1), (figure, 1));

    private static byte[] RtuUnit(byte[] frame, byte unit)
    {
        byte[] body = With(frame, 0, unit)[..^2];
        ushort crc = Crc16.Compute(body);
        return [.. body, (byte)(crc & 0xFF), (byte)(crc >> 8)]; // the low byte first (Serial Line V1.02, 2.5.1.2)
    }

    private static byte[] With(byte[] bytes, int at, byte value)
    {
        byte[] altered = [.. bytes];
        altered[at] = value;
        return altered;
    }

    private static string Text(Dictionary<LinkFigure, long> figures, IEnumerable<LinkFigure> which) => string.Join(", ", which.Where(f => figures.GetValueOrDefault(f) != 0).Select(f => $"{f} {figures[f]}"));
}
