using System.Globalization;
using EdgeGuard.OpcUa.Server;

namespace EdgeGuard.Commands;

/// <summary>
/// The publisher's log on standard error. A flood of refusals must not become a flood of lines: so many a second are
/// written, the rest is counted and the count written with the next line.
/// </summary>
internal sealed class ConsoleServerLog : IServerLog
{
    private const int LinesPerSecondMax = 20;
    private readonly Lock _gate = new();
    private long _second;
    private int _lines;
    private long _suppressed;

    public void Note(string sentence) => Write("INF", sentence);

    public void Refused(string sentence) => Write("WRN", sentence);

    private void Write(string level, string sentence)
    {
        DateTime now = DateTime.UtcNow;
        lock (_gate)
        {
            long second = now.Ticks / TimeSpan.TicksPerSecond;
            _lines = second == _second ? _lines + 1 : 1;
            _second = second;
            if (_lines > LinesPerSecondMax)
            {
                _suppressed++;
                return;
            }

            string more = _suppressed > 0 ? $" ({_suppressed} lines left out before)" : "";
            _suppressed = 0;
            Console.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{now:yyyy-MM-ddTHH:mm:ss.fffZ} {level} {sentence}{more}"));
        }
    }
}
