namespace EdgeGuard.Service.Configuration.Drafts;

/// <summary>A link as the file states it; numbers that are wrong read NaN.</summary>
internal sealed class LinkDraft(Section section, double scanMs)
{
    /// <summary>Share of the scan period that polling may take by default.</summary>
    private const double LeadShare = 0.6;

    public Section Section { get; } = section;

    public string? Name { get; } = section.Text("name");

    public string? Host { get; } = section.Text("host");

    public double Port { get; } = section.Number("port");

    public double ConnectMs { get; } = section.Number("connectMs");

    public double AnswerMs { get; } = section.Number("answerMs");

    public double PollLeadMs { get; } = section.Number("pollLeadMs", Math.Floor(scanMs * LeadShare));
}
