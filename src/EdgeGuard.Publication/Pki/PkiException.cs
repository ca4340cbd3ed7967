namespace EdgeGuard.Publication.Pki;

/// <summary>The own certificate cannot be used. The message says what, where and what to do.</summary>
public sealed class PkiException : Exception
{
    /// <summary>Without a message.</summary>
    public PkiException()
    {
    }

    /// <summary>With a message.</summary>
    public PkiException(string message)
        : base(message)
    {
    }

    /// <summary>With a message and a cause.</summary>
    public PkiException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
