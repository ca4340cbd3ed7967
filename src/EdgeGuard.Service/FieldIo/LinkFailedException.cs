namespace EdgeGuard.Service.FieldIo;

/// <summary>A connection was made but not proved by an answer.</summary>
public sealed class LinkFailedException : Exception
{
    /// <summary>Creates the exception.</summary>
    public LinkFailedException()
    {
    }

    /// <summary>Creates the exception with a sentence for the log.</summary>
    public LinkFailedException(string message)
        : base(message)
    {
    }

    /// <summary>Creates the exception with a sentence and its cause.</summary>
    public LinkFailedException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
