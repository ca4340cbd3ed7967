using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.Benchmarks;

/// <summary>Refusals to the error output, notes nowhere.</summary>
internal sealed class NoLog : IServerLog
{
    public void Note(string sentence)
    {
    }

    public void Refused(string sentence) => Console.Error.WriteLine(sentence);
}
