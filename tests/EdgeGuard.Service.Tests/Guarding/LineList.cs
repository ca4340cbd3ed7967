using System.Collections.Concurrent;
using System.Globalization;
using Serilog.Core;
using Serilog.Events;

namespace EdgeGuard.Service.Tests.Guarding;

/// <summary>Lines of the log as a list.</summary>
internal sealed class LineList : ILogEventSink
{
    private readonly ConcurrentQueue<string> _texts = new();

    public IReadOnlyCollection<string> Texts => _texts;

    // Without the quotation marks that the log puts around a text among its values.
    public void Emit(LogEvent logEvent) => _texts.Enqueue(logEvent.RenderMessage(CultureInfo.InvariantCulture).Replace("\"", "", StringComparison.Ordinal));
}
