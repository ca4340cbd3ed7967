using System.Net;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Security.Cryptography.X509Certificates;
using EdgeGuard.Modbus.Security;

namespace EdgeGuard.Modbus.Transports;

/// <summary>
/// A TLS connection with certificates on both sides (Modbus/TCP Security), bounded like a plain one. After a read that
/// ended without bytes the stream is in no known state; both ends close then, as they do without TLS.
/// </summary>
internal sealed class BoundedTls : IBoundedStream
{
    private const SslProtocols Protocols = SslProtocols.Tls12 | SslProtocols.Tls13;

    private readonly Socket _socket;
    private readonly SslStream _stream;
    private readonly Timer _end;
    private long _endTicks;
    private volatile bool _isCut;

    private BoundedTls(Socket socket)
    {
        _socket = socket;
        _stream = new SslStream(new NetworkStream(socket, ownsSocket: true));
        _end = new Timer(static tls => ((BoundedTls)tls!).CutIfPast(), this, Timeout.Infinite, Timeout.Infinite);
    }

    /// <summary>Never known: TLS sends records of its own, behind which no bytes need follow. The transaction id tells what is old.</summary>
    public bool HasReceived => false;

    /// <summary>The certificate of the other end; trusted, or there would be no connection.</summary>
    public X509Certificate2 PeerCertificate => (X509Certificate2)_stream.RemoteCertificate!;

    /// <summary>Client side of the handshake; throws <see cref="LinkOpenException"/> and closes the socket when it fails.</summary>
    public static BoundedTls Connect(Socket socket, IPEndPoint endPoint, ModbusTlsOptions options, Deadline deadline)
    {
        BoundedTls tls = new(socket);
        SslClientAuthenticationOptions authentication = new()
        {
            TargetHost = options.ServerName ?? endPoint.Address.ToString(),
            ClientCertificates = [options.Certificate],
            CertificateChainPolicy = options.ChainPolicy(),
            EnabledSslProtocols = Protocols,
        };
        try
        {
            tls.Within(deadline, stream => stream.AuthenticateAsClient(authentication));
            return tls;
        }
        catch (Exception e) when (e is AuthenticationException or IOException or ObjectDisposedException or SocketException)
        {
            tls.Dispose();
            throw new LinkOpenException(
                LinkOpenFault.NotTrusted,
                $"{endPoint} and this side did not agree on a secured connection: {e.Message}; check that each side's certificate is valid today, is issued by an issuer the other side trusts, and that the server's certificate carries the name or address connected to",
                e);
        }
    }

    /// <summary>Server side of the handshake; null, with the socket closed, when it fails.</summary>
    public static BoundedTls? Accept(Socket socket, ModbusTlsServerOptions options)
    {
        BoundedTls tls = new(socket);
        SslServerAuthenticationOptions authentication = new()
        {
            ServerCertificate = options.Certificate,
            ClientCertificateRequired = true,
            CertificateChainPolicy = options.ChainPolicy(),
            EnabledSslProtocols = Protocols,
        };
        try
        {
            tls.Within(Deadline.After(options.HandshakeTimeoutMs), stream => stream.AuthenticateAsServer(authentication));
            return tls;
        }
        catch (Exception e) when (e is AuthenticationException or IOException or ObjectDisposedException or SocketException)
        {
            tls.Dispose();
            return null;
        }
    }

    public int Receive(Span<byte> buffer, Deadline deadline)
    {
        int remainingMs = deadline.RemainingMs();
        if (remainingMs == 0)
        {
            return 0;
        }

        try
        {
            _socket.ReceiveTimeout = remainingMs;
            Arm(deadline, remainingMs);
            int count = _stream.Read(buffer);
            return count > 0 ? count : EndOfStream;
        }
        catch (IOException e) when (e.InnerException is SocketException { SocketErrorCode: SocketError.TimedOut or SocketError.WouldBlock })
        {
            return 0;
        }
        catch (Exception e) when (e is IOException or SocketException or ObjectDisposedException or InvalidOperationException)
        {
            return EndOfStream;
        }
        finally
        {
            Disarm();
        }
    }

    public SocketError Send(ReadOnlySpan<byte> bytes, Deadline deadline)
    {
        int remainingMs = deadline.RemainingMs();
        if (remainingMs == 0)
        {
            return SocketError.TimedOut;
        }

        try
        {
            _socket.SendTimeout = remainingMs;
            Arm(deadline, remainingMs);
            _stream.Write(bytes);
            return SocketError.Success;
        }
        catch (IOException e) when (e.InnerException is SocketException { SocketErrorCode: SocketError.TimedOut or SocketError.WouldBlock })
        {
            return SocketError.TimedOut;
        }
        catch (Exception e) when (e is IOException or SocketException or ObjectDisposedException or InvalidOperationException)
        {
            return _isCut ? SocketError.TimedOut : SocketError.ConnectionReset;
        }
        finally
        {
            Disarm();
        }
    }

    public void Dispose()
    {
        _end.Dispose();
        _stream.Dispose();
    }

    private int EndOfStream => _isCut ? 0 : BoundedSocket.Lost;

    /// <summary>
    /// One record is read in several pieces, each of which has the socket's whole time-out, so that a peer that sends it
    /// in drips would hold the caller for many time-outs. Therefore the socket is closed under the stream at the deadline.
    /// </summary>
    private void Arm(Deadline deadline, int remainingMs)
    {
        Volatile.Write(ref _endTicks, deadline.Ticks);
        _end.Change(remainingMs, Timeout.Infinite);
    }

    private void Disarm()
    {
        Volatile.Write(ref _endTicks, 0);
        try
        {
            _end.Change(Timeout.Infinite, Timeout.Infinite);
        }
        catch (ObjectDisposedException)
        {
            // Closed by another thread meanwhile.
        }
    }

    /// <summary>A timer may come late, when its read is long over and another has begun: only a deadline that has passed closes.</summary>
    private void CutIfPast()
    {
        long endTicks = Volatile.Read(ref _endTicks);
        if (endTicks == 0)
        {
            return;
        }

        int remainingMs = Deadline.At(endTicks).RemainingMs();
        if (remainingMs == 0)
        {
            _isCut = true;
            _socket.Dispose();
            return;
        }

        try
        {
            _end.Change(remainingMs, Timeout.Infinite);
        }
        catch (ObjectDisposedException)
        {
            // Closed meanwhile.
        }
    }

    /// <summary>Runs a handshake, which is several reads and writes, within one deadline: the socket is closed under it when that passes.</summary>
    private void Within(Deadline deadline, Action<SslStream> handshake)
    {
        int remainingMs = Math.Max(1, deadline.RemainingMs());
        using Timer end = new(static socket => ((Socket)socket!).Dispose(), _socket, remainingMs, Timeout.Infinite);

        // An accepted socket takes over the short time limits of its listener, which would bound each read of the handshake.
        _socket.ReceiveTimeout = remainingMs;
        _socket.SendTimeout = remainingMs;
        handshake(_stream);
    }
}
