using System.Net.Sockets;
using System.Text.Json;
using EdgeGuard.Publication;
using EdgeGuard.Service.Requests;

namespace EdgeGuard.Commands;

/// <summary>Takes requests of OPC UA clients to the guard over its local socket, as `edgeguard request` does.</summary>
internal sealed class SocketGuardRequests(string dataFolder) : IGuardRequests
{
    private const int LimitMs = RequestLimits.DecisionLimitMs + RequestLimits.ReceiveLimitMs;

    public GuardReply Ask(GuardRequest request)
    {
        try
        {
            byte[] line = RequestClient.Exchange(dataFolder, Message(request), LimitMs);
            RequestAnswer? answer = line.Length == 0 ? null : JsonSerializer.Deserialize(line, RequestJson.Default.RequestAnswer);
            return answer is null ? new GuardReply(GuardOutcome.Unavailable, "the guard gave no answer") : new GuardReply(Outcome(answer.Result), answer.Message);
        }
        catch (Exception e) when (e is SocketException or ArgumentException or JsonException)
        {
            return new GuardReply(GuardOutcome.Unavailable, "no guard answers: " + e.Message);
        }
    }

    public void Note(string person, string reason)
    {
        try
        {
            RequestClient.Exchange(dataFolder, new RequestMessage { Kind = RequestReader.Noted, Person = person, Reason = reason }, RequestLimits.ReceiveLimitMs);
        }
        catch (Exception e) when (e is SocketException or ArgumentException)
        {
            // No guard, no journal.
        }
    }

    private static RequestMessage Message(GuardRequest request) => new()
    {
        Kind = request.Kind,
        Unit = request.Unit,
        Person = request.Person,
        Reason = request.Reason,
        Function = request.Function,
        Alarm = request.Alarm,
        Minutes = request.Minutes,
        Signal = request.Signal,
        Value = request.Value,
        Class = request.Class,
        Remote = true,
    };

    private static GuardOutcome Outcome(string result) => result switch
    {
        "accepted" => GuardOutcome.Accepted,
        "refused" => GuardOutcome.Refused,
        "busy" => GuardOutcome.Busy,
        "denied" => GuardOutcome.Denied,
        "invalid" => GuardOutcome.Invalid,
        _ => GuardOutcome.Unavailable,
    };
}
