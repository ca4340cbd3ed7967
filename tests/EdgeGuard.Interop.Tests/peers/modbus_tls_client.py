"""An independent client of Modbus/TCP Security: the TLS of Python's standard library, Modbus frames written out here.

Usage: modbus_tls_client.py PORT CERTIFICATE KEY ISSUER; prints one line for each step.
"""
import socket
import ssl
import struct
import sys

port, certificate, key, issuer = int(sys.argv[1]), *sys.argv[2:5]


def connect(with_certificate=True, maximum=None):
    context = ssl.create_default_context(ssl.Purpose.SERVER_AUTH, cafile=issuer)
    if with_certificate:
        context.load_cert_chain(certificate, key)
    if maximum:
        context.set_ciphers("ALL:@SECLEVEL=0")
        context.minimum_version = ssl.TLSVersion.TLSv1
        context.maximum_version = maximum
    plain = socket.create_connection(("127.0.0.1", port), 5)
    return context.wrap_socket(plain, server_hostname="127.0.0.1")


def ask(connection, pdu):
    connection.sendall(struct.pack(">HHHB", 7, 0, len(pdu) + 1, 1) + pdu)
    answer = connection.recv(260)
    assert answer[:4] == b"\0\7\0\0" and answer[6] == 1, answer
    return answer[7:].hex(" ")


def refused(**how):
    try:
        with connect(**how) as connection:
            # With TLS 1.3 the refusal comes after the client's part of the handshake.
            connection.sendall(struct.pack(">HHHB", 7, 0, 6, 1) + b"\3\0\0\0\1")
            return "closed" if connection.recv(260) == b"" else "answered"
    except ssl.SSLError as error:
        return error.reason
    except ConnectionError:
        return "closed"


with connect() as tls:
    print(tls.version() in ("TLSv1.2", "TLSv1.3"))
    print(ask(tls, bytes.fromhex("0300140003")))
    print(ask(tls, bytes.fromhex("0600140007")))
with connect(maximum=ssl.TLSVersion.TLSv1_2) as tls:
    print(tls.version(), tls.cipher()[0])
print("without certificate:", refused(with_certificate=False))
print("TLS 1.1:", refused(maximum=ssl.TLSVersion.TLSv1_1))
