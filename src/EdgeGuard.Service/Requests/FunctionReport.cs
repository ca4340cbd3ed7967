namespace EdgeGuard.Service.Requests;

/// <summary>Verdict of one function at the latest copied scan.</summary>
/// <param name="Function">Code, e.g. "FLOW".</param>
/// <param name="State">Verdict.</param>
/// <param name="Value">Value judged; absent when not a number.</param>
/// <param name="Limit">Limit in force; absent when not a number.</param>
/// <param name="Unit">Unit of value and limit.</param>
public sealed record FunctionReport(string Function, string State, double? Value, double? Limit, string Unit);
