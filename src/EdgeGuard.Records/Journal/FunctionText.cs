namespace EdgeGuard.Records.Journal;

/// <summary>Words for one protective function.</summary>
/// <param name="Code">Code in capitals, e.g. "FLOW".</param>
/// <param name="Title">What it finds, as part of a sentence.</param>
/// <param name="Unit">Unit of its value and limit; empty when it judges no measured figure.</param>
/// <param name="LookAt">Where to look first.</param>
/// <param name="ResetNeeds">What has to hold before a reset is taken.</param>
public sealed record FunctionText(string Code, string Title, string Unit, string LookAt, string ResetNeeds);
