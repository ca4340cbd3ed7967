namespace EdgeGuard.Reports.Charts;

/// <summary>Style classes of the tones.</summary>
internal static class ChartTones
{
    public static string Class(ChartTone tone) => tone switch
    {
        ChartTone.Hot => "hot",
        ChartTone.Cool => "cool",
        ChartTone.Waiting => "waiting",
        ChartTone.Fault => "fault",
        _ => "neutral",
    };
}
