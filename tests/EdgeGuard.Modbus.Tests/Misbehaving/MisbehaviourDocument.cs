using System.Globalization;
using EdgeGuard.Modbus.Server;

namespace EdgeGuard.Modbus.Tests.Misbehaving;

/// <summary>The tables of the faults as they stand in docs/reference/modbus.md, made from what the tests run.</summary>
internal static class MisbehaviourDocument
{
    public static string[] Lines =>
    [
        "| the device sends | Modbus TCP | RTU |",
        "|---|---|---|",
        .. Rows([.. ClientFault.Tcp, .. ClientFault.TcpZero], ClientFault.Rtu, f => f.Name, f => Cell(f)),
        "",
        "| the client sends | Modbus TCP | RTU |",
        "|---|---|---|",
        .. Rows(ServerFault.Tcp, ServerFault.Rtu, f => f.Name, f => Cell(f)),
    ];

    private static IEnumerable<string> Rows<T>(T[] tcp, T[] rtu, Func<T, string> name, Func<T, string> cell)
        where T : class
    {
        foreach (string row in tcp.Concat(rtu).Select(name).Distinct())
        {
            yield return $"| {row} | {Of(tcp, row)} | {Of(rtu, row)} |";
        }

        string Of(T[] faults, string row) => Array.Find(faults, f => name(f) == row) is { } found ? cell(found) : "–";
    }

    private static string Cell(ClientFault fault) =>
        string.Join(", ", (fault.Counters ?? []).Order().Select(c => c.ToString()).Prepend($"`{fault.Outcome}`"));

    private static string Cell(ServerFault fault)
    {
        // The answer to a write of one register stands for all: the exception code is the same for every function.
        FunctionCase function = FunctionCase.All.First(f => fault.Pieces(f).Length > 0);
        string[] answers = fault.Answers(function);
        string what = answers.Length == 0 ? "no answer"
            : answers[0].Length == 5 && Hex.Bytes(answers[0])[0] >= 0x80 ? "exception " + answers[0][3..]
            : answers.Length == 1 ? "the answer" : answers.Length.ToString(CultureInfo.InvariantCulture) + " answers";
        ServerCounters c = fault.Counters;
        return Cell(what + (fault.IsClosed ? ", closed" : ""), [
            (nameof(c.Answered), c.Answered), (nameof(c.Refused), c.Refused), (nameof(c.Discarded), c.Discarded),
            (nameof(c.Broadcasts), c.Broadcasts), (nameof(c.Malformed), c.Malformed)]);
    }

    private static string Cell(string what, (string Name, long Value)[] counters) =>
        string.Join(", ", counters.Where(c => c.Value != 0).Select(c => c.Name).Prepend(what));
}
