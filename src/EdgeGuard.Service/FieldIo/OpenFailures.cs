using EdgeGuard.Modbus.Transports;
using EdgeGuard.Records.Ring;

namespace EdgeGuard.Service.FieldIo;

/// <summary>Which figure counts a failed attempt to open a link.</summary>
internal static class OpenFailures
{
    public static LinkFigure FigureOf(Exception cause) => cause switch
    {
        LinkFailedException => LinkFigure.UnprovedConnects,
        LinkOpenException { Fault: LinkOpenFault.Refused } => LinkFigure.RefusedConnects,
        LinkOpenException { Fault: LinkOpenFault.TimedOut or LinkOpenFault.Unreachable } => LinkFigure.UnreachedConnects,
        _ => LinkFigure.FailedConnects,
    };
}
