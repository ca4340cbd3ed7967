namespace EdgeGuard.Demo;

/// <summary>A child process ended or fell silent.</summary>
internal sealed class ChildProcessException(string message) : Exception(message);
