using EdgeGuard.Records.Ring;

namespace EdgeGuard.Publication.Tests.Rigs;

/// <summary>One misbehaviour of a device towards one request, and the figures of the link that it must move by so many.</summary>
/// <param name="Name">What the device does.</param>
/// <param name="Befalls">The unit and function of the request it happens to.</param>
/// <param name="Pieces">What it sends in place of the right answer, given that and the answer before; null closes the connection.</param>
/// <param name="Moves">The figures.</param>
internal sealed record WireFault(string Name, (byte Unit, byte Function) Befalls, Func<byte[], byte[], byte[][]?> Pieces, params (LinkFigure Figure, long By)[] Moves)
{
    /// <summary>Connections that are taken and closed at once after it.</summary>
    public int ThenRejects { get; init; }

    public override string ToString() => Name;
}
