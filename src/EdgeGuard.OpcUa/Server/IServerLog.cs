namespace EdgeGuard.OpcUa.Server;

/// <summary>Takes plain sentences about connections and sessions. May be called from several threads and must not wait.</summary>
public interface IServerLog
{
    /// <summary>Something that was in order.</summary>
    void Note(string sentence);

    /// <summary>Something that was refused or cut off, with the cause.</summary>
    void Refused(string sentence);
}
