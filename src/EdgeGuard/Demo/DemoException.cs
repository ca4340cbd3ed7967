namespace EdgeGuard.Demo;

/// <summary>The story did not go as it must; the message says where it stopped.</summary>
internal sealed class DemoException(string message) : Exception(message);
