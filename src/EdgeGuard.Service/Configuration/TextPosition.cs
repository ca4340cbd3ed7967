namespace EdgeGuard.Service.Configuration;

/// <summary>A place in a file of the site folder; line and column count from 1.</summary>
internal readonly record struct TextPosition(string File, int Line, int Column);
