namespace EdgeGuard.Core.Interlocks;

/// <summary>An assertion of the core failed: a fault of the program, never of the plant. It trips and latches the unit concerned.</summary>
internal sealed class InvariantFault(string message) : Exception(message)
{
}
