using System.Globalization;
using System.Net.Sockets;
using System.Text;
using System.Text.RegularExpressions;
using CsCheck;
using EdgeGuard.Core.Interlocks;
using EdgeGuard.Core.Signals;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Service.Tests.Requests;

/// <summary>The local door over real sockets: good requests, bad ones, any bytes, too many.</summary>
public sealed class RequestServerTests
{
    [Trait("requirement", "REQU-1")]
    [Fact]
    public void An_accepted_request_is_journalled_with_person_user_and_reason_before_the_core_decides()
    {
        using var door = new RequestDoor();
        RequestAnswer answer = door.Ask("start", person: "shift lead");
        Assert.Equal(("accepted", 1, 9), (answer.Result, answer.Id, answer.Scan));
        string line = Assert.Single(door.Journal);
        Assert.StartsWith("received 1 Start N-1 by shift lead (", line, StringComparison.Ordinal);
        Assert.Contains($"uid {UserId()}", line, StringComparison.Ordinal);
        Assert.EndsWith(": filter changed", line, StringComparison.Ordinal);
    }

    [Fact]
    public void A_note_is_written_down_without_asking_the_core_and_a_flood_of_them_is_counted()
    {
        using var door = new RequestDoor();
        Assert.Equal("invalid", door.Ask("noted", reason: "a\nb").Result);
        Assert.Empty(door.Journal);
        int written = 0;
        long start = Environment.TickCount64;
        for (int i = 0; i < 60; i++)
        {
            written += door.Ask("noted", reason: "start N-1 refused by the publisher: the role is missing", person: "guest").Result == "accepted" ? 1 : 0;
        }

        Assert.Equal(written, door.Journal.Count);
        Assert.InRange(written, 20, WrittenMost(start, 60));
        Assert.All(door.Journal, static line => Assert.StartsWith("rejected start N-1 refused by the publisher: the role is missing", line, StringComparison.Ordinal));
        Thread.Sleep(600);
        Assert.Equal("accepted", door.Ask("noted", reason: "again").Result);

        // A note that passed in the middle of the flood has told those before it.
        int told = door.Journal.Select(static line => Regex.Match(line, @"\((\d+) further left out before\)", RegexOptions.None, TimeSpan.FromSeconds(1))).Where(static m => m.Success).Sum(static m => int.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture));
        Assert.Equal(60 - written, told);
    }

    [Trait("requirement", "REQU-2")]
    [Fact]
    public void A_refusal_names_the_missing_condition_with_function_value_and_limit()
    {
        using var door = new RequestDoor();
        door.Decide = static (unit, request) => new GuardEvent
        {
            Unit = unit,
            Id = EventId.RequestRefused,
            Detail = request.Id,
            Reason = RefusalReason.CauseStillPresent,
            Function = FunctionId.Flow,
            Value = 12.25,
            Limit = 70,
        };
        RequestAnswer answer = door.Ask("reset");
        Assert.Equal("refused", answer.Result);
        Assert.Equal(("CauseStillPresent", "FLOW", 12.25, 70.0), (answer.Reason, answer.Function, answer.Value, answer.Limit));
        Assert.Equal("refused: the cause is still present: FLOW, gas flow under its limit: 12.250 kg/h, limit 70.000 kg/h; a reset needs the flow back over its limit as long as the heater is hot or its power not proved off; a cold heater needs none, its start proves the flow", answer.Message);
    }

    [Theory]
    [InlineData("launch", "N-1", "why", "kind: found \"launch\"; expected reset, start, stop, acknowledge, cool, bypass, unbypass, force, unforce, classify, learn, shelve, unshelve, outofservice, inservice or status")]
    [InlineData("start", "N-9", "why", "unit: found \"N-9\"; expected one of N-1, A-1")]
    [InlineData("start", "N-1", "  ", "reason: found nothing; expected a few words for the journal")]
    [InlineData("start", "N-1", "a\nb", "reason: found a control character; expected plain text on one line")]
    public void A_request_that_cannot_be_asked_is_told_why_and_journalled_as_rejected(string kind, string unit, string reason, string expected)
    {
        using var door = new RequestDoor();
        RequestAnswer answer = door.Ask(kind, unit, reason);
        Assert.Equal(("invalid", expected), (answer.Result, answer.Message));
        Assert.Equal(["rejected " + expected], door.Journal);
    }

    [Theory]
    [InlineData("bypass", null, "FLOW", 30, null, "person: found nothing; expected a few words for the journal")]
    [InlineData("bypass", "A. Smith", null, 30, null, "function: found nothing; expected one of FLOW, ELEM, OUTL, NORS, RESD, SENS, PHAS, LEAK, BALA")]
    [InlineData("bypass", "A. Smith", "FLAW", 30, null, "function: found \"FLAW\"; expected one of FLOW, ELEM, OUTL, NORS, RESD, SENS, PHAS, LEAK, BALA")]
    [InlineData("bypass", "A. Smith", "FLOW", null, null, "minutes: found nothing; expected 1 to 1440")]
    [InlineData("bypass", "A. Smith", "FLOW", 0, null, "minutes: found 0; expected 1 to 1440")]
    [InlineData("bypass", "A. Smith", "FLOW", 65_537, null, "minutes: found 65537; expected 1 to 1440")]
    [InlineData("unbypass", "A. Smith", "FLOW", 30, null, "minutes: found 30; expected none, since only a bypass and a force have a time")]
    [InlineData("start", "A. Smith", "FLOW", null, null, "function: found \"FLOW\"; expected none, since only bypass, unbypass and learn name a function")]
    [InlineData("classify", "A. Smith", null, null, "odd", "class: found \"odd\"; expected genuine or spurious")]
    [InlineData("classify", null, null, null, "spurious", "person: found nothing; expected a few words for the journal")]
    public void A_bypass_that_cannot_be_one_is_told_why(string kind, string? person, string? function, int? minutes, string? found, string expected)
    {
        using var door = new RequestDoor();
        RequestAnswer answer = door.Ask(new RequestMessage { Kind = kind, Unit = "N-1", Reason = "why", Person = person, Function = function, Minutes = minutes, Class = found });
        Assert.Equal(("invalid", expected), (answer.Result, answer.Message));
    }

    [Theory]
    [InlineData("bypass", "outl", 1_440, null, RequestKind.Bypass, FunctionId.Outl)]
    [InlineData("bypass", "SELF", 1, null, RequestKind.Bypass, FunctionId.Self)] // Whether it may be is for the core to say, and to journal.
    [InlineData("unbypass", "SENS", null, null, RequestKind.Unbypass, FunctionId.Sens)]
    [InlineData("classify", null, null, "genuine", RequestKind.ClassifyGenuine, FunctionId.None)]
    [InlineData("classify", null, null, "spurious", RequestKind.ClassifySpurious, FunctionId.None)]
    public void Function_and_minutes_reach_the_scan_as_they_were_asked(string kind, string? function, int? minutes, string? found, RequestKind expected, FunctionId expectedFunction)
    {
        using var door = new RequestDoor();
        OperatorRequest taken = default;
        door.Decide = (unit, request) =>
        {
            taken = request;
            return new GuardEvent { Unit = unit, Id = EventId.RequestAccepted, Detail = request.Id };
        };
        RequestAnswer answer = door.Ask(new RequestMessage { Kind = kind, Unit = "A-1", Reason = "why", Person = "A. Smith", Function = function, Minutes = minutes, Class = found });
        Assert.Equal(("accepted", 1), (answer.Result, answer.Id));
        Assert.Equal((expected, expectedFunction, minutes ?? 0, 1L), (taken.Kind, taken.Function, (int)taken.Minutes, taken.Id));
    }

    [Trait("requirement", "FORC-1")]
    [Theory]
    [InlineData("force", null, "gasFlow", 140.0, 15, "person: found nothing; expected a few words for the journal")]
    [InlineData("unforce", null, "gasFlow", null, null, "person: found nothing; expected a few words for the journal")]
    [InlineData("force", "A. Smith", "flow", 140.0, 15, "signal: found \"flow\"; expected one of elementTemperature, outletTemperature, inletTemperature, gasFlow, elementTemperature2, elementTemperature3, outletTemperature2, outletTemperature3, gasFlow2, gasFlow3, currentL1, currentL2, currentL3, earthLeakage, insulation")]
    [InlineData("force", "A. Smith", "gasFlow", null, 15, "value: found nothing; expected a number in the unit of the signal")]
    [InlineData("force", "A. Smith", "gasFlow", 140.0, null, "minutes: found nothing; expected 1 to 480")]
    [InlineData("force", "A. Smith", "gasFlow", 140.0, 481, "minutes: found 481; expected 1 to 480")]
    [InlineData("unforce", "A. Smith", "gasFlow", 140.0, null, "value: found a number; expected none, since only a force has a value")]
    [InlineData("unforce", "A. Smith", "gasFlow", null, 15, "minutes: found 15; expected none, since only a bypass and a force have a time")]
    [InlineData("start", "A. Smith", "gasFlow", null, null, "signal: found \"gasFlow\"; expected none, since only force and unforce name a signal")]
    public void A_force_that_cannot_be_one_is_told_why(string kind, string? person, string? signal, double? value, int? minutes, string expected)
    {
        using var door = new RequestDoor();
        RequestAnswer answer = door.Ask(new RequestMessage { Kind = kind, Unit = "N-1", Reason = "why", Person = person, Signal = signal, Value = value, Minutes = minutes });
        Assert.StartsWith("invalid " + expected, $"{answer.Result} {answer.Message}", StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("force", "gasflow", 140.25, 15, RequestKind.Force, SignalRole.GasFlow)]
    [InlineData("force", "elementTemperature", -3e-7, 480, RequestKind.Force, SignalRole.ElementTemperature)]
    [InlineData("force", "chainHealthy", 1.0, 1, RequestKind.Force, SignalRole.ChainHealthy)] // Whether it may be is for the core to say, and to journal.
    [InlineData("unforce", "insulation", null, null, RequestKind.Unforce, SignalRole.Insulation)]
    public void Signal_value_and_minutes_reach_the_scan_as_they_were_asked(string kind, string signal, double? value, int? minutes, RequestKind expected, SignalRole role)
    {
        using var door = new RequestDoor();
        OperatorRequest taken = default;
        door.Decide = (unit, request) =>
        {
            taken = request;
            return new GuardEvent { Unit = unit, Id = EventId.RequestAccepted, Detail = request.Id };
        };
        RequestAnswer answer = door.Ask(new RequestMessage { Kind = kind, Unit = "A-1", Reason = "why", Person = "A. Smith", Signal = signal, Value = value, Minutes = minutes });
        Assert.Equal(("accepted", 1), (answer.Result, answer.Id));
        Assert.Equal((expected, role, value ?? 0, minutes ?? 0), (taken.Kind, taken.Signal, taken.Value, (int)taken.Minutes));
        Assert.Equal(FunctionId.None, taken.Function);
        door.Ask(new RequestMessage { Kind = "bypass", Unit = "A-1", Reason = "why", Person = "A. Smith", Function = "FLOW", Minutes = 5 });
        Assert.Equal((FunctionId.Flow, default(SignalRole), 0.0), (taken.Function, taken.Signal, taken.Value));
    }

    [Theory]
    [InlineData(true, true)]
    [InlineData(false, false)]
    [InlineData(null, false)]
    public void What_comes_from_another_machine_reaches_the_scan_as_such(bool? remote, bool expected)
    {
        using var door = new RequestDoor();
        OperatorRequest taken = default;
        door.Decide = (unit, request) =>
        {
            taken = request;
            return new GuardEvent { Unit = unit, Id = EventId.RequestAccepted, Detail = request.Id };
        };
        door.Ask(new RequestMessage { Kind = "bypass", Unit = "A-1", Reason = "why", Person = "A. Smith", Function = "FLOW", Minutes = 1_440, Remote = remote });
        Assert.Equal((RequestKind.Bypass, FunctionId.Flow, 1_440, expected), (taken.Kind, taken.Function, (int)taken.Minutes, taken.Remote));
    }

    [Fact]
    public void A_request_that_cannot_be_taken_down_is_not_put_to_the_core_but_a_stop_is()
    {
        using var door = new RequestDoor { JournalFull = true };
        int decided = 0;
        door.Decide = (unit, request) =>
        {
            decided++;
            return new GuardEvent { Unit = unit, Id = EventId.RequestAccepted, Detail = request.Id };
        };
        RequestAnswer answer = door.Ask("start");
        Assert.Equal(("unavailable", 0), (answer.Result, decided));
        Assert.Equal(("accepted", 1), (door.Ask("stop").Result, decided));
        door.JournalFull = false;
        Assert.Equal(("accepted", 2), (door.Ask("start").Result, decided));
    }

    [Fact]
    public void A_second_request_of_the_unit_is_busy_until_the_first_is_decided_and_other_units_are_not_touched()
    {
        using var door = new RequestDoor { Deaf = true };
        RequestAnswer? first = null;
        var asking = new Thread(() => first = door.Ask("start"));
        asking.Start();
        Assert.True(SpinWait.SpinUntil(() => door.Journal.Count == 1, RequestDoor.PatienceMs));
        Assert.Equal("busy", door.Ask("stop").Result);
        door.Deaf = false;
        asking.Join();
        Assert.Equal("accepted", first?.Result);
        Assert.Equal("accepted", door.Ask("start", "A-1").Result);
    }

    [Fact]
    public void A_request_that_no_scan_decides_is_withdrawn_and_never_acted_on_later()
    {
        using var door = new RequestDoor(decisionLimitMs: 50) { Deaf = true };
        Assert.Equal("unavailable", door.Ask("start").Result);
        var decided = new System.Collections.Concurrent.ConcurrentQueue<(int Unit, RequestKind Kind)>();
        door.Decide = (unit, request) =>
        {
            decided.Enqueue((unit, request.Kind));
            return new GuardEvent { Unit = unit, Id = EventId.RequestAccepted, Detail = request.Id };
        };
        door.Deaf = false;

        // Within the short time of this door a busy machine may come to no scan: then it is withdrawn too, and asked again.
        Assert.True(SpinWait.SpinUntil(() => door.Ask("acknowledge", "A-1").Result == "accepted", RequestDoor.PatienceMs));
        Assert.Equal((1, RequestKind.Acknowledge), Assert.Single(decided));
    }

    [Fact]
    public void Any_bytes_are_answered_or_closed_and_the_next_request_works()
    {
        using var door = new RequestDoor();
        Gen.Byte.Array[0, 200].Sample(
            bytes =>
            {
                string answer = door.Raw(bytes);
                Assert.Contains("\"invalid\"", answer, StringComparison.Ordinal);
            },
            iter: 200,
            threads: 1);
        Assert.Equal("accepted", door.Ask("start").Result);
        Assert.Single(door.Journal);
    }

    [Theory]
    [InlineData("null\n")]
    [InlineData("[]\n")]
    [InlineData("{}\n")]
    [InlineData("{\"kind\":null}\n")]
    [InlineData("{\"kind\":\"start\",\"unit\":\"N-1\",\"reason\":\"r\",\"force\":true}\n")]
    [InlineData("{\"kind\":\"start\",\"unit\":7,\"reason\":\"r\"}\n")]
    [InlineData("\n")]
    public void Almost_requests_are_invalid(string line)
    {
        using var door = new RequestDoor();
        Assert.Equal("invalid", RequestDoor.Parse(Encoding.UTF8.GetBytes(door.Raw(Encoding.UTF8.GetBytes(line)))).Result);
        Assert.DoesNotContain(door.Journal, l => l.StartsWith("received", StringComparison.Ordinal));
    }

    [Fact]
    public void A_line_over_the_limit_is_refused_without_reading_on()
    {
        using var door = new RequestDoor();
        byte[] flood = new byte[RequestLimits.LineBytesMax + 100_000];
        Array.Fill(flood, (byte)'x');
        Assert.Contains("one short line", door.Raw(flood), StringComparison.Ordinal);
        string longest = new('r', RequestLimits.TextCharactersMax);
        Assert.Equal("accepted", door.Ask("start", reason: longest).Result);
        Assert.Equal("invalid", door.Ask("start", reason: longest + "r").Result);
    }

    [Fact]
    public void Clients_that_hold_the_door_are_bounded_and_time_out()
    {
        using var door = new RequestDoor(receiveLimitMs: 3_000);
        Socket[] holding = [.. Enumerable.Range(0, RequestLimits.ClientsMax).Select(_ => door.Connect())];
        foreach (Socket socket in holding)
        {
            socket.Send("{"u8);
        }

        // Accepting is in order, so by the time the extra client is looked at, all others have been.
        using (Socket extra = door.Connect())
        {
            Assert.Contains("\"busy\"", RequestDoor.Read(extra), StringComparison.Ordinal);
        }

        foreach (Socket socket in holding)
        {
            Assert.Contains("no complete line within 3000 ms", RequestDoor.Read(socket), StringComparison.Ordinal);
            socket.Dispose();
        }

        Assert.True(SpinWait.SpinUntil(() => door.Ask("start").Result == "accepted", RequestDoor.PatienceMs));
    }

    [Fact]
    public void A_request_that_a_scan_has_taken_is_answered_with_its_decision_and_never_called_withdrawn()
    {
        using var door = new RequestDoor(decisionLimitMs: 1_000);
        door.Decide = static (unit, request) =>
        {
            Thread.Sleep(1_200);
            return new GuardEvent { Unit = unit, Id = EventId.RequestAccepted, Detail = request.Id };
        };
        Assert.Equal("accepted", door.Ask("start").Result);
    }

    [Fact]
    public void Status_needs_no_unit_and_no_reason()
    {
        using var door = new RequestDoor();
        string status = door.Raw("{\"kind\":\"status\"}\n"u8);
        Assert.StartsWith("{\"site\":\"hall\"", status, StringComparison.Ordinal);
        Assert.Empty(door.Journal);
    }

    [Theory]
    [InlineData(typeof(InvalidOperationException))]
    [InlineData(typeof(OutOfMemoryException))]
    [InlineData(typeof(IOException))]
    public void A_fault_of_the_program_is_answered_journalled_and_does_not_end_the_guard(Type fault)
    {
        using var door = new RequestDoor { StatusFault = (Exception)Activator.CreateInstance(fault, "injected")! };
        Assert.Equal("unavailable", door.Ask("status").Result);
        Assert.Equal(["rejected fault of the program: injected"], door.Journal);
        door.StatusFault = null;
        Assert.StartsWith("{\"site\":\"hall\"", door.Raw("{\"kind\":\"status\"}\n"u8), StringComparison.Ordinal);
        Assert.Equal("accepted", door.Ask("start").Result);
    }

    [Fact]
    public void A_thread_that_cannot_be_started_is_answered_and_the_door_stays_open()
    {
        int starts = 0;
        using var door = new RequestDoor(startThread: (thread, client) =>
        {
            if (++starts <= RequestLimits.ClientsMax + 1)
            {
                throw new InsufficientMemoryException("injected");
            }

            thread.Start(client);
        });
        for (int i = 0; i <= RequestLimits.ClientsMax; i++)
        {
            using Socket socket = door.Connect();
            Assert.Contains("\"unavailable\"", RequestDoor.Read(socket), StringComparison.Ordinal);
        }

        Assert.Equal("accepted", door.Ask("start").Result); // None of them is still counted as being served.
    }

    [Fact]
    public void A_flood_of_refused_requests_is_answered_but_written_down_only_so_often_and_counted()
    {
        using var door = new RequestDoor();
        const int Flood = 200;
        long start = Environment.TickCount64;
        for (int i = 0; i < Flood; i++)
        {
            Assert.Equal("invalid", door.Ask("start", "N-9").Result);
        }

        int written = door.Journal.Count;
        Assert.InRange(written, 20, WrittenMost(start, Flood));
        Thread.Sleep(600);
        door.Ask("start", "N-9");
        int told = door.Journal.Select(static line => Regex.Match(line, @"\((\d+) further left out before\)$", RegexOptions.None, TimeSpan.FromSeconds(1))).Where(static m => m.Success).Sum(static m => int.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture));
        Assert.Equal(Flood - written, told);
        Assert.Equal("accepted", door.Ask("noted", reason: "a note has a measure of its own").Result);
    }

    [Fact]
    public void The_socket_belongs_to_the_guards_user_alone_and_goes_with_the_guard()
    {
        string path;
        using (var door = new RequestDoor())
        {
            path = RequestClient.SocketPath(door.Folder);
            Assert.True(OperatingSystem.IsWindows() || File.GetUnixFileMode(path) == (UnixFileMode.UserRead | UnixFileMode.UserWrite));
        }

        Assert.False(File.Exists(path));
    }

    [Fact]
    public void A_path_too_long_for_a_socket_is_named_with_its_length()
    {
        var fault = Assert.Throws<ArgumentException>(() => RequestSocketFile.CheckLength("/" + new string('d', RequestLimits.SocketPathBytesMax)));
        Assert.Contains("found 108 bytes; expected at most 107", fault.Message, StringComparison.Ordinal);
    }

    // A burst of 20, then two a second; and never all of them, or it would be no flood.
    private static int WrittenMost(long startMs, int asked) => Math.Min(asked - 1, 20 + 1 + (int)((Environment.TickCount64 - startMs) / 500));

    private static string UserId() => File.ReadLines("/proc/self/status").First(l => l.StartsWith("Uid:", StringComparison.Ordinal)).Split('\t')[1];
}
