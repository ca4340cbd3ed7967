using EdgeGuard.Core.Interlocks;
using EdgeGuard.Records.Journal;
using EdgeGuard.Service.Guarding;
using Serilog;
using Serilog.Core;
using Serilog.Events;

namespace EdgeGuard.Service.Tests.Guarding;

public sealed class EventConsoleTests
{
    [Fact]
    public void Trips_resets_and_changes_of_state_are_told_in_order_and_nothing_else()
    {
        var sink = new ListSink();
        using Logger log = new LoggerConfiguration().WriteTo.Sink(sink).CreateLogger();
        var console = new EventConsole(log);
        console.Take(Line(EventId.Trip, "Power removed by FLOW: gas flow under its limit."));
        console.Take(Line(EventId.AlarmActive, "not told"));
        console.Take(Line(EventId.Reset, null));
        console.Take(Line(EventId.StateChanged, "Tripped to Ready."));
        Assert.Equal(
            ["Warning \"N-1\": \"Power removed by FLOW: gas flow under its limit.\"", "Information \"N-1\": reset", "Information \"N-1\": \"Tripped to Ready.\""],
            sink.Lines);
    }

    private static JournalEntry Line(EventId id, string? text) => new() { Id = (int)id, UtcUnixMs = 0, Unit = "N-1", Text = text };

    private sealed class ListSink : ILogEventSink
    {
        private readonly List<string> _lines = [];

        public IReadOnlyList<string> Lines => _lines;

        public void Emit(LogEvent logEvent) => _lines.Add($"{logEvent.Level} {logEvent.RenderMessage(System.Globalization.CultureInfo.InvariantCulture)}");
    }
}
