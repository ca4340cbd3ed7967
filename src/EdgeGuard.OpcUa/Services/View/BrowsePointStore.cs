using System.Buffers.Binary;
using System.Security.Cryptography;

namespace EdgeGuard.OpcUa.Services;

/// <summary>
/// Continuation points of one session (OPC 10000-4, 7.9). A point left over from an earlier request makes room when a new
/// request needs it, the oldest first; one request alone cannot have more than fit. Identifiers start at a random
/// number, so that one of another session is not taken for one of this. Used by one request of the session at a time.
/// </summary>
/// <param name="pointsMax">How many points are held at once.</param>
public sealed class BrowsePointStore(int pointsMax)
{
    private readonly List<(ulong Id, long Request, BrowsePoint Point)> _points = new(pointsMax);
    private ulong _nextId = BinaryPrimitives.ReadUInt64LittleEndian(RandomNumberGenerator.GetBytes(8));
    private long _request;

    /// <summary>Points held now.</summary>
    public int Count => _points.Count;

    /// <summary>Starts a new request: points made before may be dropped from now on.</summary>
    internal void BeginRequest() => _request++;

    /// <summary>Whether one more point can be held.</summary>
    internal bool HasRoom => _points.Count < pointsMax || (_points.Count > 0 && _points[0].Request != _request);

    /// <summary>Holds a point; there is room.</summary>
    internal byte[] Add(in BrowsePoint point)
    {
        if (_points.Count >= pointsMax)
        {
            _points.RemoveAt(0);
        }

        ulong id = _nextId;
        _nextId = unchecked(_nextId + 1);
        _points.Add((id, _request, point));
        byte[] bytes = new byte[8];
        BinaryPrimitives.WriteUInt64LittleEndian(bytes, id);
        return bytes;
    }

    /// <summary>Takes a point out; false when it is not one of this session or was taken already.</summary>
    internal bool TryTake(byte[]? id, out BrowsePoint point)
    {
        point = default;
        int index = id is { Length: 8 } ? _points.FindIndex(held => held.Id == BinaryPrimitives.ReadUInt64LittleEndian(id)) : -1;
        if (index < 0)
        {
            return false;
        }

        point = _points[index].Point;
        _points.RemoveAt(index);
        return true;
    }
}
