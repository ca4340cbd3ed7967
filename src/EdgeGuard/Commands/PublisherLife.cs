using EdgeGuard.Publication;
using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Commands;

/// <summary>
/// How long a publisher lives. Started by hand: until a signal; it outlives the guard and shows its values grow old.
/// Started by the guard: as long as the guard holds the other end of its standard input, with a sign of life (an empty
/// line) whenever the publishing thread has moved on. Ctrl+C reaches all processes of a terminal; a kept publisher leaves
/// it to the guard to end it in order.
/// </summary>
internal static class PublisherLife
{
    private const int SignMs = 500;

    public static void Wait(PublicationHost host, bool kept)
    {
        using var stop = new ManualResetEventSlim();
        using StopSignals signals = kept ? StopSignals.LeavingInterruptToParent(_ => stop.Set()) : StopSignals.On(_ => stop.Set());
        if (!kept)
        {
            stop.Wait();
            return;
        }

        new Thread(() => ReadToEnd(stop)) { IsBackground = true, Name = "input" }.Start();
        GiveSigns(host, stop);
    }

    private static void ReadToEnd(ManualResetEventSlim stop)
    {
        using Stream input = Console.OpenStandardInput();
        Span<byte> ignored = stackalloc byte[64];
        while (input.Read(ignored) > 0)
        {
            // Nothing is said here; only the end counts.
        }

        stop.Set();
    }

    private static void GiveSigns(PublicationHost host, ManualResetEventSlim stop)
    {
        using Stream output = Console.OpenStandardOutput();
        long rounds = -1;
        while (!stop.Wait(SignMs))
        {
            if (host.Rounds != rounds)
            {
                rounds = host.Rounds;
                output.WriteByte((byte)'\n');
                output.Flush();
            }
        }
    }
}
